package page

import (
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"path/filepath"
	"runtime/debug"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/cmd/hollowbed/store"
)

// mostBody is the largest request that is read.
const mostBody = 1 << 20

// failure is a refusal in words. Faults stand beside the fields they name.
type failure struct {
	status int
	Words  string    `json:"error"`
	Faults []fault   `json:"faults"`
	Clash  *conflict `json:"conflict,omitempty"`
}

func (f *failure) Error() string { return f.Words }

// fault is one thing wrong with what was typed.
type fault struct {
	Key   string `json:"key"`
	Line  int    `json:"line"`
	Value string `json:"value"`
	Want  string `json:"want"`
}

func notFound(r *http.Request) *failure {
	if r.Method != http.MethodGet && r.Method != http.MethodPost && r.Method != http.MethodHead {
		return &failure{status: http.StatusMethodNotAllowed, Words: "This page takes GET and POST."}
	}
	return &failure{status: http.StatusNotFound, Words: "There is nothing at this address."}
}

// wrong is a refusal of one field of a request.
func wrong(key, value, want string) *failure {
	return &failure{status: http.StatusBadRequest, Words: "That cannot be taken as it is.", Faults: []fault{{Key: key, Value: value, Want: want}}}
}

// refuse answers with a refusal in words; an error that is none is ours.
func refuse(w http.ResponseWriter, err error) {
	var f *failure
	var large *http.MaxBytesError
	var late *store.ChangedError
	var bad interface{ BadInput() bool }
	if !errors.As(err, &f) && errors.As(err, &bad) && bad.BadInput() {
		err = unprocessable(err)
	}
	switch {
	case errors.As(err, &f):
	case errors.As(err, &late):
		f = &failure{status: http.StatusConflict, Words: filepath.Base(late.File) + " changed on disk meanwhile. Nothing was written: try again."}
	case errors.As(err, &large):
		f = &failure{status: http.StatusRequestEntityTooLarge, Words: "That is too much at once: at most 1 MB."}
	default:
		f = &failure{status: http.StatusInternalServerError, Words: "This did not work: " + report.Plain(err.Error()) + "."}
	}
	if f.Faults == nil {
		f.Faults = []fault{}
	}
	answer(w, f.status, f)
}

// answer writes a document.
func answer(w http.ResponseWriter, status int, doc any) {
	body, written := doc.(json.RawMessage)
	if !written {
		var err error
		if body, err = json.Marshal(doc); err != nil {
			status, body = http.StatusInternalServerError, []byte(`{"error":"The answer could not be written.","faults":[]}`)
		}
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.WriteHeader(status)
	w.Write(body)
}

// post adds a route that takes a document and gives one.
func post[In, Out any](mux *http.ServeMux, name string, handle func(*http.Request, In) (Out, error)) {
	mux.HandleFunc("POST /api/"+name, func(w http.ResponseWriter, r *http.Request) {
		in, err := take[In](w, r)
		if err != nil {
			refuse(w, err)
			return
		}
		out, err := handle(r, in)
		if err != nil {
			refuse(w, err)
			return
		}
		answer(w, http.StatusOK, out)
	})
}

// take reads the document of a request: one, with known fields only.
func take[In any](w http.ResponseWriter, r *http.Request) (in In, err error) {
	dec := json.NewDecoder(http.MaxBytesReader(w, r.Body, mostBody))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&in); err != nil {
		return in, unread(err)
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return in, unread(err)
	}
	return in, nil
}

func unread(err error) error {
	var large *http.MaxBytesError
	if errors.As(err, &large) {
		return err
	}
	words := "The request cannot be read: want one JSON document"
	var kind *json.UnmarshalTypeError
	if errors.As(err, &kind) {
		return wrong(kind.Field, "", "want "+kind.Type.String())
	}
	if err != nil {
		words += ": " + report.Plain(err.Error())
	}
	return &failure{status: http.StatusBadRequest, Words: words + "."}
}

// mend answers for a handler that has failed in itself, so that the page lives
// on. The stack goes to nobody but the error stream of the program.
func mend(w http.ResponseWriter) {
	if cause := recover(); cause != nil {
		if cause == http.ErrAbortHandler {
			panic(cause)
		}
		println("hollowbed: this is our fault:", string(debug.Stack()))
		refuse(w, &failure{status: http.StatusInternalServerError, Words: "Something went wrong in the program itself. Nothing was written; try another way."})
	}
}
