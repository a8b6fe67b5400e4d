package browser

import (
	"context"
	"fmt"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/performance"
	"github.com/chromedp/chromedp"
)

// Work is what a page did on its main thread while it was watched.
type Work struct {
	Seconds float64 // watched
	Frames  int     // drawn
	Script  float64 // s spent in scripts
	Layout  float64 // s spent in layout and style
	Task    float64 // s spent in all tasks
	Layouts int     // how often the page was laid out
	Calls   int     // of drawing methods of canvases; counted only by Counting
}

// countFrames lets a page count its frames.
const countFrames = `(() => { window.framesDrawn = 0; const tick = () => { window.framesDrawn++; requestAnimationFrame(tick) }; requestAnimationFrame(tick) })()`

// countCalls lets a page count the calls of its canvases' methods.
const countCalls = `(() => {
	window.canvasCalls = 0;
	const of = CanvasRenderingContext2D.prototype;
	for (const name of Object.getOwnPropertyNames(of)) {
		const method = Object.getOwnPropertyDescriptor(of, name).value;
		if (typeof method === "function") of[name] = function (...args) { window.canvasCalls++; return method.apply(this, args) };
	}
})()`

// WorkOf watches the page of a tab until it has drawn a number of frames. With
// counting, calls of canvases' methods are counted, which itself takes time.
func WorkOf(tab context.Context, frames int, counting bool) (Work, error) {
	begin := countFrames
	if counting {
		begin += ";" + countCalls
	}
	if _, err := chromedp.Run(tab, chromedp.Evaluate[string](begin+`; "" `)); err != nil {
		return Work{}, fmt.Errorf("counting the page's frames: %w", err)
	}
	before, err := workSoFar(tab)
	if err != nil {
		return Work{}, err
	}
	const pause = 100 * time.Millisecond
	for {
		now, err := workSoFar(tab)
		if err != nil {
			return Work{}, err
		}
		if now.Frames >= before.Frames+frames {
			return Work{now.Seconds - before.Seconds, now.Frames - before.Frames, now.Script - before.Script, now.Layout - before.Layout,
				now.Task - before.Task, now.Layouts - before.Layouts, now.Calls - before.Calls}, nil
		}
		select {
		case <-time.After(pause):
		case <-tab.Done():
			return Work{}, tab.Err()
		}
	}
}

// workSoFar is the work since the page began.
func workSoFar(tab context.Context) (w Work, err error) {
	err = chromedp.Do(tab, chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		if _, err := cdp.Call(ctx, t, performance.Enable, performance.EnableParams{}); err != nil {
			return err
		}
		got, err := cdp.Call(ctx, t, performance.GetMetrics, cdp.Empty{})
		if err != nil {
			return err
		}
		for _, m := range got.Metrics {
			switch m.Name {
			case "Timestamp":
				w.Seconds = m.Value
			case "ScriptDuration":
				w.Script = m.Value
			case "LayoutDuration", "RecalcStyleDuration":
				w.Layout += m.Value
			case "TaskDuration":
				w.Task = m.Value
			case "LayoutCount":
				w.Layouts = int(m.Value)
			}
		}
		return nil
	}))
	if err != nil {
		return w, fmt.Errorf("asking for the page's work: %w", err)
	}
	counts, err := chromedp.Run(tab, chromedp.Evaluate[[]int]("[window.framesDrawn ?? 0, window.canvasCalls ?? 0]"))
	if err != nil {
		return w, fmt.Errorf("asking for the page's frames: %w", err)
	}
	w.Frames, w.Calls = counts[0], counts[1]
	return w, nil
}
