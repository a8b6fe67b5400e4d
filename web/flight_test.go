package web

import (
	"testing"

	"ionwright/internal/browser"
)

// TestAFrameIsLittleWork counts what a frame of the live view asks of the
// browser while the field sweeps: one copied picture for each of 300 ions and
// the ends of some, a piece of the trace, and no layout of the page. Paths are
// drawn when the server tells new ones, not with each frame.
func TestAFrameIsLittleWork(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser rests in a short run")
	}
	s := serve(t, Options{})
	p := browser.Open(t, s.URL)
	p.Size(1280, 800)
	p.Go("/demonstrate")
	p.Wait(ready)
	p.Text(`document.getElementById("play").click()`)
	p.Wait(`document.getElementById("play").textContent === "Pause"`)
	// Without news from the server nothing but ions and trace is drawn.
	p.Text(`window.fetch = () => new Promise(() => {})`)
	const frames = 60
	work, err := browser.WorkOf(p.Ctx, frames, true)
	if err != nil {
		t.Fatal(err)
	}
	calls := float64(work.Calls) / float64(work.Frames)
	t.Logf("%.0f calls a frame, %d layouts in %d frames", calls, work.Layouts, work.Frames)
	if calls < 280 || calls > 480 {
		t.Errorf("a frame takes %.0f calls of the canvases; 300 ions take about as many, and no more than 480 in all", calls)
	}
	if work.Layouts > work.Frames/2 {
		t.Errorf("%d layouts in %d frames", work.Layouts, work.Frames)
	}
	p.Quiet()
}

// TestWithoutMotionNothingRuns asks for reduced motion: ions stand still, and
// no frame is drawn until something changes.
func TestWithoutMotionNothingRuns(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser rests in a short run")
	}
	s := serve(t, Options{})
	p := browser.Open(t, s.URL)
	p.Scheme("light", true)
	p.Go("/demonstrate")
	p.Wait(ready)
	work, err := browser.WorkOf(p.Ctx, 30, true)
	if err != nil {
		t.Fatal(err)
	}
	if work.Calls > 0 {
		t.Errorf("%d calls of the canvases in %d frames in which nothing changes", work.Calls, work.Frames)
	}
	p.Text(`document.getElementById("step").click()`)
	p.Wait(`document.getElementById("now").textContent.includes("reaches")`)
	p.Wait(`window.canvasCalls > 0`)
}
