package outside_test

import (
	"bytes"
	"encoding/json"
	"image/png"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"example.com/steptest/testdata/sheets"
)

// service reads sheets over HTTP: JSON of every test, or a picture of the first.
func service() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("POST /tests", func(w http.ResponseWriter, r *http.Request) {
		type answer struct {
			Record   protocol.Record   `json:"record"`
			Analysis *lactate.Analysis `json:"analysis,omitempty"`
			Error    string            `json:"error,omitempty"`
			Review   []lactate.Warning `json:"review,omitempty"`
		}
		out := struct {
			Tests  []answer          `json:"tests"`
			Faults []*protocol.Fault `json:"faults,omitempty"`
		}{}
		records, err := sheet.Read(r.Body)
		out.Faults = protocol.Faults(err)
		for _, rec := range records {
			a := answer{Record: rec, Review: rec.Review()}
			if a.Analysis, err = rec.Analyze(lactate.Options{Resamples: 200}); err != nil {
				a.Error = err.Error()
			}
			out.Tests = append(out.Tests, a)
		}
		w.Header().Set("Content-Type", "application/json")
		_ = json.NewEncoder(w).Encode(out)
	})
	mux.HandleFunc("POST /pictures/{name}", func(w http.ResponseWriter, r *http.Request) {
		records, _ := sheet.Read(r.Body)
		if len(records) == 0 {
			http.Error(w, "no test", http.StatusBadRequest)
			return
		}
		a, err := records[0].Analyze(lactate.Options{Resamples: 200})
		if err != nil {
			http.Error(w, err.Error(), http.StatusUnprocessableEntity)
			return
		}
		p, err := chart.OneTest(a, chart.Options{Title: records[0].Swimmer, Pool: records[0].Pool})
		var b bytes.Buffer
		if err == nil {
			err = p.Write(&b, r.PathValue("name"))
		}
		if err != nil {
			http.Error(w, err.Error(), http.StatusInternalServerError)
			return
		}
		_, _ = b.WriteTo(w)
	})
	return mux
}

// A JSON service with pictures answers many at once, under the race detector too, and
// the same each time; a broken sheet is told row by row, and its test is not read as if it
// were whole.
func TestService(t *testing.T) {
	server := httptest.NewServer(service())
	defer server.Close()
	post := func(path string, body []byte) (int, []byte) {
		resp, err := http.Post(server.URL+path, "text/csv", bytes.NewReader(body))
		if err != nil {
			t.Error(err)
			return 0, nil
		}
		defer resp.Body.Close()
		b, err := io.ReadAll(resp.Body)
		if err != nil {
			t.Error(err)
		}
		return resp.StatusCode, b
	}
	_, want := post("/tests", sheets.Season())
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			if code, got := post("/tests", sheets.Season()); code != http.StatusOK || !bytes.Equal(got, want) {
				t.Errorf("%d, %.300s", code, got)
			}
			if code, got := post("/pictures/a.svg", sheets.Single()); code != http.StatusOK || !bytes.HasPrefix(got, []byte("<?xml")) {
				t.Errorf("%d, %.300s", code, got)
			}
			code, got := post("/pictures/a.png", sheets.Single())
			if _, err := png.Decode(bytes.NewReader(got)); code != http.StatusOK || err != nil {
				t.Errorf("%d, %v", code, err)
			}
		})
	}
	wg.Wait()

	var answer struct {
		Tests []struct {
			Record   protocol.Record
			Analysis *struct {
				LT2 struct{ Intensity lactate.Estimate }
			}
			Error string
		}
		Faults []*protocol.Fault
	}
	broken := strings.Replace(string(sheets.Single()), "4:58.8", "4:98.8", 1)
	if broken == string(sheets.Single()) {
		t.Fatal("the sheet was not broken")
	}
	_, got := post("/tests", []byte(broken))
	if err := json.Unmarshal(got, &answer); err != nil {
		t.Fatal(err)
	}
	if len(answer.Tests) != 1 || answer.Tests[0].Analysis != nil || !strings.Contains(answer.Tests[0].Error, protocol.ErrPartial.Error()) || len(answer.Faults) != 1 || answer.Faults[0].Line == 0 {
		t.Errorf("%s", got)
	}
	if code, _ := post("/pictures/a.svg", []byte("nothing")); code != http.StatusBadRequest {
		t.Error(code)
	}
	if code, _ := post("/pictures/a.tiff", sheets.Single()); code != http.StatusInternalServerError {
		t.Error(code)
	}
}
