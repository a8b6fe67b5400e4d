package preview

import (
	"context"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"ionwright/internal/browser"
	"ionwright/lesson/example"
)

// seen collects what a page asks for and what it complains of.
type seen struct {
	mu       sync.Mutex
	requests []string
	errors   []string
}

func watchPage(t *testing.T, ctx context.Context) *seen {
	t.Helper()
	s := &seen{}
	err := chromedp.Listen(ctx, func(ev any) {
		if request, ok := ev.(*network.EventRequestWillBeSent); ok {
			s.mu.Lock()
			defer s.mu.Unlock()
			s.requests = append(s.requests, request.Request.URL)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	messages := chromedp.Console(ctx)
	go func() {
		for m, err := range messages {
			if err != nil {
				return
			}
			s.mu.Lock()
			s.errors = append(s.errors, m.Text)
			s.mu.Unlock()
		}
	}()
	return s
}

// quiet fails on complaints and on requests that leave the server.
func (s *seen) quiet(t *testing.T, server string) {
	t.Helper()
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, e := range s.errors {
		t.Errorf("the console says: %s", e)
	}
	if len(s.requests) == 0 {
		t.Error("no request was seen")
	}
	for _, url := range s.requests {
		if !strings.HasPrefix(url, server) && !strings.HasPrefix(url, "data:") {
			t.Errorf("the page asked for %s", url)
		}
	}
}

// wait waits until a condition in the page holds, through reloads.
func wait(t *testing.T, ctx context.Context, condition string) {
	t.Helper()
	const patience, pause = 30 * time.Second, 50 * time.Millisecond
	var err error
	for deadline := time.Now().Add(patience); time.Now().Before(deadline); time.Sleep(pause) {
		var holds bool
		if holds, err = chromedp.Run(ctx, chromedp.Evaluate[bool]("Boolean("+condition+")")); holds {
			return
		}
		if ctx.Err() != nil {
			break
		}
	}
	text, _ := chromedp.Run(ctx, chromedp.Evaluate[string]("document.body.innerText.slice(0, 600)"))
	t.Fatalf("waiting for %s: %v; the page reads %q", condition, err, text)
}

// serve starts the server, and ends it with the test whatever pages are open.
func serve(t *testing.T, s *Server) string {
	t.Helper()
	server := httptest.NewServer(s.Handler())
	t.Cleanup(func() {
		server.CloseClientConnections()
		server.Close()
	})
	return server.URL
}

func do(t *testing.T, ctx context.Context, actions ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	if err := chromedp.Do(ctx, actions...); err != nil {
		t.Fatal(err)
	}
}

// fits fails where the page is wider than its window.
func fits(t *testing.T, ctx context.Context, page string, width int64) {
	t.Helper()
	over, err := chromedp.Run(ctx, chromedp.Evaluate[float64]("document.documentElement.scrollWidth - document.documentElement.clientWidth"))
	if err != nil {
		t.Fatal(err)
	}
	if over > 0 {
		wide, _ := chromedp.Run(ctx, chromedp.Evaluate[string](`[...document.querySelectorAll("body *")]
			.filter((e) => e.getBoundingClientRect().right > innerWidth + 1).slice(0, 3).map((e) => e.outerHTML.slice(0, 120)).join("\n")`))
		t.Errorf("%s at %d px is %g px too wide: %s", page, width, over, wide)
	}
}

// TestTheExampleInABrowser shows every page at the width of a desk and of a
// telephone.
func TestTheExampleInABrowser(t *testing.T) {
	ctx := browser.Start(t)
	s := New(example.Bottles())
	if state := s.Build(t.Context()); !state.OK {
		t.Fatal(state)
	}
	url := serve(t, s)
	page := watchPage(t, ctx)
	for _, width := range []int64{1280, 390} {
		for _, name := range []string{"/student.html", "/key.html"} {
			do(t, ctx, chromedp.EmulateViewport(width, 900), chromedp.Navigate(url+name))
			wait(t, ctx, `document.querySelector("#preview [role=status]")?.textContent === "Built"`)
			fits(t, ctx, name, width)
			hidden, err := chromedp.Run(ctx, chromedp.Evaluate[[]string](
				`[...document.querySelectorAll("figure")].filter((e) => ![...e.querySelectorAll("svg")].some((s) => s.getBoundingClientRect().width > 0)).map((e) => e.id)`))
			if err != nil || len(hidden) > 0 {
				t.Errorf("%s at %d px doesn't show the figures %q: %v", name, width, hidden, err)
			}
			title, err := chromedp.Run(ctx, chromedp.Evaluate[string](`document.querySelector("h1").textContent`))
			if err != nil || title != "Three bottles without labels" {
				t.Errorf("%s has the title %q: %v", name, title, err)
			}
		}
	}
	page.quiet(t, url)
}

// TestThePageFollowsTheSource changes the source under an open page.
func TestThePageFollowsTheSource(t *testing.T) {
	ctx := browser.Start(t)
	dir, s := folder(t, good)
	s.Build(t.Context())
	go func() {
		if err := s.Watch(ctx, dir, "pack", func(State) {}); err != nil {
			t.Error(err)
		}
	}()
	url := serve(t, s)
	page := watchPage(t, ctx)
	do(t, ctx, chromedp.EmulateViewport(390, 800), chromedp.Navigate(url+"/"))
	wait(t, ctx, `document.querySelector("#preview [role=status]")?.textContent === "Built"`)

	// An error is shown above the last good version, with its place and values.
	write(t, dir, strings.Replace(wrong, "A good lesson", "<b>not shown</b>", 1))
	wait(t, ctx, `document.querySelector("#preview-findings li.error")?.innerText.includes("lesson.md:6:22")`)
	wait(t, ctx, `["claimed: 74", "computed: 72"].every((s) => document.querySelector("#preview-findings").innerText.includes(s))`)
	wait(t, ctx, `document.querySelector("#lesson").innerText.includes("is 72.") && document.querySelector("h1").innerText === "A good lesson"`)
	fits(t, ctx, "the page with an error", 390)

	// A good change reloads the page, and the error goes away.
	write(t, dir, strings.Replace(good, "A good lesson", "A better lesson", 1))
	wait(t, ctx, `document.querySelector("h1")?.innerText === "A better lesson" && !document.querySelector("#preview-findings li")`)
	page.quiet(t, url)
}

// TestALessonThatStartsWrong comes up as a page of errors and turns into the
// lesson.
func TestALessonThatStartsWrong(t *testing.T) {
	ctx := browser.Start(t)
	dir, s := folder(t, wrong)
	s.Build(t.Context())
	url := serve(t, s)
	page := watchPage(t, ctx)
	do(t, ctx, chromedp.Navigate(url+"/student.html"))
	wait(t, ctx, `document.querySelector("#preview-findings li.error")?.innerText.includes("computed: 72")`)
	write(t, dir, good)
	s.Build(t.Context())
	wait(t, ctx, `document.querySelector("#lesson h2, #lesson p")?.innerText.includes("is 72.")`)
	page.quiet(t, url)
}
