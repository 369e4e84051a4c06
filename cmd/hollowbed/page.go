package main

import (
	"context"
	"errors"
	"fmt"
	"html"
	"io"
	"log"
	"net"
	"net/http"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime"
	"strings"
	"sync/atomic"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"hollowbed/cmd/hollowbed/page"
	"hollowbed/data"
)

type openOptions struct {
	common
	port      int
	noBrowser bool
	idle      time.Duration
}

func newOpen(w world) *cobra.Command {
	o := &openOptions{common: common{world: w}}
	cmd := &cobra.Command{
		Use:   "open",
		Short: "Look at a garden and change it on a page in your browser",
		Long: `Show a garden on a page in the browser: the bed drawn to scale, what would live
where, the planting list, the water week by week. Change what you like and see
what follows; the garden's files are written only when you save.

The page is served by this machine to this machine alone, and its address ends
in a key that lets only you in. Ctrl-C ends it.`,
		Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error { return o.run() },
	}
	f := cmd.Flags()
	f.StringVar(&o.garden, "garden", "", "folder of the garden (default: the embedded demo)")
	f.StringVar(&o.units, "units", "", "show figures in `us|metric` (default: as the garden file says)")
	f.IntVar(&o.port, "port", 0, "port to listen on; 0 takes any that is free")
	f.BoolVar(&o.noBrowser, "no-browser", false, "print the address, open nothing")
	f.DurationVar(&o.idle, "idle", 0, "end after so long without a window, such as 30m; 0 goes on until Ctrl-C")
	return cmd
}

func (o *openOptions) run() error {
	if o.port < 0 || o.port > 65535 {
		return usagef("--port: %d: want 0 to 65535", o.port)
	}
	if o.idle < 0 {
		return usagef("--idle: %v: want a time such as 30m, or 0", o.idle)
	}
	garden, err := o.pageOf()
	if err != nil {
		return err
	}
	defer garden.Index.Close()
	listener, err := net.Listen("tcp4", fmt.Sprintf("127.0.0.1:%d", o.port))
	if errors.Is(err, syscall.EADDRINUSE) {
		return usagef("--port: %d: something else listens there: want another, or 0 for any that is free", o.port)
	} else if err != nil {
		return err
	}
	defer listener.Close()
	ctx, end := context.WithCancel(context.Background())
	defer end()
	signals := make(chan os.Signal, 2)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	defer signal.Stop(signals)
	var shown atomic.Pointer[page.Page]
	go o.endBy(ctx, signals, end, func() []string {
		if p := shown.Load(); p != nil {
			return p.Unsaved()
		}
		return nil
	})
	p, err := page.New(ctx, garden, listener.Addr().(*net.TCPAddr).Port)
	if err != nil {
		return err
	}
	shown.Store(p)
	fmt.Fprintf(o.out, "%s\n", p.Address())
	fmt.Fprintln(o.err, "Open this address in a browser on this machine. Ctrl-C ends it.")
	if o.terminal && !o.noBrowser {
		if forget, err := showPage(p.Address()); err == nil {
			defer forget()
		}
	}
	err = o.serve(ctx, listener, p)
	if left := p.Unsaved(); len(left) > 0 {
		fmt.Fprintf(o.err, "Ended. Not saved, and gone:\n  - %s\n", strings.Join(left, "\n  - "))
	}
	return err
}

// endBy ends by a signal. Ctrl-C on a terminal, while something is not saved, first
// says what, and ends when it comes again.
func (o *openOptions) endBy(ctx context.Context, signals <-chan os.Signal, end func(), unsaved func() []string) {
	told := ""
	for {
		select {
		case <-ctx.Done():
			return
		case s := <-signals:
			left := strings.Join(unsaved(), "\n  - ")
			if !o.terminal || s != os.Interrupt || left == "" || left == told {
				end()
				return
			}
			told = left
			fmt.Fprintf(o.err, "\nNot saved yet:\n  - %s\nSave on the page, or press Ctrl-C once more to end without.\n", left)
		}
	}
}

// serve serves until the context ends, or nobody has asked for so long.
func (o *openOptions) serve(ctx context.Context, listener net.Listener, p *page.Page) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	server := &http.Server{
		Handler: p.Handler(), BaseContext: func(net.Listener) context.Context { return ctx },
		ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 15 * time.Second, WriteTimeout: time.Minute, IdleTimeout: 2 * time.Minute,
		MaxHeaderBytes: 16 << 10, ErrorLog: log.New(io.Discard, "", 0),
	}
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(listener) }()
	if o.idle > 0 {
		go func() {
			p.Idle(ctx, o.idle)
			cancel()
		}()
	}
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	last, done := context.WithTimeout(context.Background(), 5*time.Second)
	defer done()
	if err := server.Shutdown(last); err != nil {
		return server.Close()
	}
	return nil
}

// pageOf reads what the page shows.
func (o *openOptions) pageOf() (page.Garden, error) {
	f, err := o.open()
	if err != nil {
		return page.Garden{}, err
	}
	table, err := f.catalogue(o.err)
	if err != nil {
		return page.Garden{}, err
	}
	index, err := (&findOptions{common: o.common}).index(table)
	if err != nil {
		return page.Garden{}, err
	}
	units, err := o.unitsWanted()
	if err != nil {
		return page.Garden{}, err
	}
	signs, err := signs()
	if err != nil {
		return page.Garden{}, err
	}
	g := page.Garden{Folder: f.dir, Files: f.files, Table: table, Index: index, Signs: signs, Units: units, Now: o.now}
	if f.dir == "" {
		g.Grown = data.Season()
		g.On, err = time.Parse(time.DateOnly, demoDay)
		return g, err
	}
	g.Files, g.Lock, g.Change, g.Photo = f.kept.Inside(), f.kept.Lock, f.kept.Change, f.kept.Photo
	return g, nil
}

// showPage opens the address in the browser of this machine. The address goes
// there in a file that only its owner can read, since others can see what
// commands are given; forget removes it.
func showPage(address string) (forget func(), err error) {
	dir, err := os.MkdirTemp("", "hollowbed-*")
	if err != nil {
		return nil, err
	}
	forget = func() { os.RemoveAll(dir) }
	file := filepath.Join(dir, "open.html")
	text := fmt.Sprintf("<!DOCTYPE html><meta charset=utf-8><meta http-equiv=refresh content=\"0;url=%s\"><title>Opening</title>", html.EscapeString(address))
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		forget()
		return nil, err
	}
	name, args := "xdg-open", []string{file}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", file}
	}
	if err := exec.Command(name, args...).Start(); err != nil {
		forget()
		return nil, err
	}
	return forget, nil
}
