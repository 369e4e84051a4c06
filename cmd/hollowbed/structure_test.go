package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
)

const repo = "../.."

// tableRows returns the cells of the table of DEVELOPERS.md whose head begins
// with a given cell.
func tableRows(t *testing.T, head string) [][]string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(repo, "DEVELOPERS.md"))
	require.NoError(t, err)
	var rows [][]string
	in := false
	for line := range strings.Lines(string(text)) {
		line = strings.TrimSpace(line)
		if !strings.HasPrefix(line, "|") {
			in = false
			continue
		}
		cells := strings.Split(strings.Trim(line, "|"), "|")
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
		}
		if cells[0] == head {
			in = true
			continue
		}
		if in && !strings.HasPrefix(cells[0], "---") {
			rows = append(rows, cells)
		}
	}
	require.NotEmpty(t, rows, "table %q in DEVELOPERS.md", head)
	return rows
}

func ticked(cell string) []string {
	var out []string
	for _, m := range regexp.MustCompile("`([^`]+)`").FindAllStringSubmatch(cell, -1) {
		out = append(out, m[1])
	}
	return out
}

// The code imports what the table says, no more and no less, and no package is
// left out of it.
func TestImports(t *testing.T) {
	t.Parallel()
	allowed := map[string][]string{}
	for _, row := range tableRows(t, "package") {
		allowed[ticked(row[0])[0]] = ticked(row[1])
	}
	list := exec.Command("go", "list", "-f", `{{.ImportPath}}{{range .Imports}} {{.}}{{end}}`, "./...", "./testdata/testenv")
	list.Dir = repo
	out, err := list.Output()
	require.NoError(t, err)
	for line := range strings.Lines(string(out)) {
		words := strings.Fields(line)
		name := strings.TrimPrefix(words[0], "hollowbed/")
		may, ok := allowed[name]
		if !assert.True(t, ok, "%s is not in the table", name) {
			continue
		}
		var ours []string
		for _, path := range words[1:] {
			if path, is := strings.CutPrefix(path, "hollowbed/"); is {
				ours = append(ours, path)
			}
		}
		assert.ElementsMatch(t, may, ours, "%s: in the table, in the code", name)
		delete(allowed, name)
	}
	assert.Empty(t, allowed, "in the table, but no such package")
}

// Every function of the table "where is it computed?" stands in its file.
func TestWhere(t *testing.T) {
	t.Parallel()
	for _, row := range tableRows(t, "number") {
		have := map[string]bool{}
		for _, file := range ticked(row[2]) {
			tree, err := parser.ParseFile(token.NewFileSet(), filepath.Join(repo, file), nil, 0)
			require.NoError(t, err)
			for _, d := range tree.Decls {
				if f, ok := d.(*ast.FuncDecl); ok {
					have[f.Name.Name] = true
				}
			}
		}
		for _, name := range ticked(row[1]) {
			assert.True(t, have[name], "%s: no %s in %s", row[0], name, row[2])
		}
	}
}

// Tests and benchmarks that the pages name are there.
func TestNamed(t *testing.T) {
	t.Parallel()
	named := regexp.MustCompile("`((?:Test|Benchmark|Fuzz)[A-Z][A-Za-z]*)`")
	has := map[string]bool{}
	for _, dir := range []string{"cmd", "plants", "search", "zones"} {
		require.NoError(t, filepath.WalkDir(filepath.Join(repo, dir), func(path string, d fs.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(path, "_test.go") {
				return err
			}
			tree, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
			for _, d := range tree.Decls {
				if f, ok := d.(*ast.FuncDecl); ok {
					has[f.Name.Name] = true
				}
			}
			return err
		}))
	}
	for _, page := range []string{"DEVELOPERS.md", "README.md", "data/TRUST.md", "data/METHOD.md", "data/MEASURED.md", "cmd/hollowbed/page/README.md"} {
		text, err := os.ReadFile(filepath.Join(repo, page))
		require.NoError(t, err)
		for _, m := range named.FindAllStringSubmatch(string(text), -1) {
			assert.True(t, has[m[1]], "%s names %s", page, m[1])
		}
	}
}

// The top level holds what the layout says and no more.
func TestTopLevel(t *testing.T) {
	t.Parallel()
	out, err := exec.Command("git", "-C", repo, "ls-files").Output()
	if err != nil {
		testenv.Absent(t, "not a git checkout")
	}
	want := []string{"cmd", "plants", "zones", "search", "data", "testdata", "go.mod", "go.sum", "README.md", "DEVELOPERS.md", "LICENSE"}
	for file := range strings.Lines(string(out)) {
		top, _, _ := strings.Cut(strings.TrimSpace(file), "/")
		if !strings.HasPrefix(top, ".") {
			assert.True(t, slices.Contains(want, top), "%s at the top level", top)
		}
	}
}

// No package-level variables but embeds and named errors, no init: what varies
// is passed in.
func TestNoGlobals(t *testing.T) {
	t.Parallel()
	out, err := exec.Command("go", "list", "-f", `{{range .GoFiles}}{{$.Dir}}/{{.}}{{"\n"}}{{end}}`, repo+"/...").Output()
	require.NoError(t, err)
	for file := range strings.Lines(string(out)) {
		file = strings.TrimSpace(file)
		if file == "" {
			continue
		}
		tree, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ParseComments)
		require.NoError(t, err)
		for _, d := range tree.Decls {
			switch d := d.(type) {
			case *ast.GenDecl:
				embeds := d.Doc != nil && strings.Contains(d.Doc.List[len(d.Doc.List)-1].Text, "go:embed")
				assert.False(t, d.Tok == token.VAR && !embeds && !namedError(d), "%s: a package variable", file)
			case *ast.FuncDecl:
				assert.False(t, d.Recv == nil && d.Name.Name == "init", "%s: init", file)
			}
		}
	}
}

func namedError(d *ast.GenDecl) bool {
	for _, spec := range d.Specs {
		if v, ok := spec.(*ast.ValueSpec); !ok || len(v.Names) != 1 || !strings.HasPrefix(strings.ToLower(v.Names[0].Name), "err") {
			return false
		}
	}
	return true
}
