package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http/httptest"
	"os"
	"time"

	"github.com/chromedp/chromedp"

	"ionwright/internal/browser"
	"ionwright/web"
)

// liveView measures the instrument with 300 ions in flight in a headless
// browser, which draws without a graphics card.
func liveView(ctx context.Context, out io.Writer) error {
	app, err := web.New(ctx, web.Options{})
	if err != nil {
		return err
	}
	server := httptest.NewServer(app.Handler())
	defer server.Close()
	defer server.CloseClientConnections()
	dir, err := os.MkdirTemp("", "ionwright-bench-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	tab, cancel, err := browser.Launch(ctx, dir)
	if errors.Is(err, browser.ErrNone) {
		fmt.Fprintf(out, "the live view isn't measured: %v\n", err)
		return nil
	}
	if err != nil {
		return err
	}
	defer cancel()
	work, err := flying(tab, server.URL)
	if err != nil {
		return err
	}
	ms := func(seconds float64) float64 { return 1000 * seconds / float64(work.Frames) }
	fmt.Fprintf(out, "live view, 300 ions, 1280 x 800, no graphics card: %.0f frames a second; on the page's thread %.2f ms a frame, of which script %.2f, layout and style %.2f\n",
		float64(work.Frames)/work.Seconds, ms(work.Task), ms(work.Script), ms(work.Layout))
	return nil
}

// flying starts the sweep and watches some seconds of it.
func flying(tab context.Context, server string) (browser.Work, error) {
	const frames = 300
	if err := chromedp.Do(tab, chromedp.EmulateViewport(1280, 800), chromedp.Navigate(server+"/demonstrate")); err != nil {
		return browser.Work{}, err
	}
	const patience, pause = 20 * time.Second, 50 * time.Millisecond
	for deadline := time.Now().Add(patience); ; time.Sleep(pause) {
		started, err := chromedp.Run(tab, chromedp.Evaluate[bool](`(() => { const play = document.getElementById("play");
			if (document.getElementById("stage").hidden) return false; if (play.textContent === "Start") play.click(); return play.textContent === "Pause" })()`))
		if started {
			break
		}
		if err != nil || time.Now().After(deadline) {
			return browser.Work{}, fmt.Errorf("starting the sweep: %w", err)
		}
	}
	return browser.WorkOf(tab, frames, false)
}
