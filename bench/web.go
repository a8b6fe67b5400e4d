package main

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"sync"
	"time"

	"ionwright/web"
)

// tenCarbons are compounds of ten carbon atoms, as a class would type them.
var tenCarbons = []string{"decan-2-one", "decane", "decan-1-ol", "decanal", "naphthalene", "butylbenzene", "methyl nonanoate", "C=CCCCCCCCC", "1-phenylbutan-1-one", "citral"}

// readable are peaks as somebody pastes them.
const readable = "27:25 28:12 29:62 30:2 39:8 41:20 42:6 43:44 45:15 55:9 57:100 58:5 73:6 74:12 75:40 87:2 102:8 103:1"

// webSpeed measures how long pages take on the server, without network and
// browser: each answer fresh (nothing remembered), and then for 50 people at
// once who explain, read and demonstrate.
func webSpeed(ctx context.Context, out io.Writer) error {
	app, err := web.New(ctx, web.Options{})
	if err != nil {
		return err
	}
	h := app.Handler()
	ask := func(path string) (time.Duration, error) {
		r := httptest.NewRequestWithContext(ctx, "GET", "http://localhost"+path, nil)
		r.Header.Set("Accept", "text/html")
		w := httptest.NewRecorder()
		from := time.Now()
		h.ServeHTTP(w, r)
		took := time.Since(from)
		if w.Code != http.StatusOK {
			return took, fmt.Errorf("%s answers %d: %.200s", path, w.Code, w.Body)
		}
		return took, nil
	}
	for _, path := range []string{"/explain?q=butane", "/read?peaks=43:100+58:10", "/demonstrate/frame?field=0.3"} { // tables are unpacked once
		if _, err := ask(path); err != nil {
			return err
		}
	}
	const times = 200
	fmt.Fprintf(out, "%-34s %9s %9s\n", "answer", "median", "p95")
	fresh := 0.0 // another energy or height each time: nothing is remembered
	for _, c := range []struct {
		name string
		path func(i int) string
	}{
		{"explain a compound of ten carbons", func(i int) string {
			fresh += 0.001
			return fmt.Sprintf("/explain?q=%s&ev=%.3f", url.QueryEscape(tenCarbons[i%len(tenCarbons)]), 69+fresh)
		}},
		{"read a spectrum", func(int) string {
			fresh += 0.001
			return "/read?peaks=" + url.QueryEscape(fmt.Sprintf("%s 104:%.3f", readable, 0.1+fresh/10))
		}},
		{"a frame of the sweep", func(i int) string { return fmt.Sprintf("/demonstrate/frame?field=%.4f", 0.25+float64(i)/1000) }},
	} {
		var took []time.Duration
		for i := range times {
			d, err := ask(c.path(i))
			if err != nil {
				return err
			}
			took = append(took, d)
		}
		row(out, c.name, took)
	}

	// 50 people, each of whom asks, looks for about a second, and asks again.
	const people, asks = 50, 12
	var mu sync.Mutex
	var took []time.Duration
	var failed error
	var wg sync.WaitGroup
	for person := range people {
		wg.Go(func() {
			for i := range asks {
				time.Sleep(time.Duration(700+(person*37+i*53)%600) * time.Millisecond)
				q := url.QueryEscape(tenCarbons[(person+i)%len(tenCarbons)])
				path := []string{"/explain?q=" + q, fmt.Sprintf("/explain?q=%s&ev=%d", q, 20+(person+i)%50), "/read?peaks=" + url.QueryEscape(fmt.Sprintf("%s 105:%d", readable, 1+person%3)),
					fmt.Sprintf("/demonstrate/frame?field=0.%d", 250+person+i)}[i%4]
				d, err := ask(path)
				mu.Lock()
				took = append(took, d)
				if err != nil {
					failed = err
				}
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	if failed != nil {
		return failed
	}
	row(out, fmt.Sprintf("%d people at once", people), took)
	return nil
}

// row prints median and 95th percentile.
func row(out io.Writer, name string, took []time.Duration) {
	slices.Sort(took)
	at := func(q float64) string {
		return strings.TrimSpace(fmt.Sprintf("%.1f ms", float64(took[int(q*float64(len(took)-1))].Microseconds())/1000))
	}
	fmt.Fprintf(out, "%-34s %9s %9s\n", name, at(0.5), at(0.95))
}
