package browser

import (
	"context"
	"errors"
	"os/exec"

	"github.com/chromedp/chromedp"
)

// ErrNone says that the machine has no Chromium.
var ErrNone = errors.New("there is no Chromium on this machine")

// Launch starts a headless Chromium that keeps its data in dir, and returns
// the context of its first tab. It ends with cancel. It fails with ErrNone
// where there is no Chromium.
func Launch(ctx context.Context, dir string) (tab context.Context, cancel context.CancelFunc, err error) {
	path := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "chrome"} {
		if found, err := exec.LookPath(name); err == nil {
			path = found
			break
		}
	}
	if path == "" {
		return nil, nil, ErrNone
	}
	ctx, end := chromedp.NewExecAllocator(ctx, chromedp.ExecPath(path), chromedp.Headless, chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.NoFirstRun, chromedp.NoDefaultBrowserCheck, chromedp.UserDataDir(dir),
		chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true),
		chromedp.Flag("disable-sync", true), chromedp.Flag("disable-quic", true))
	tab, close := chromedp.NewContext(ctx)
	return tab, func() { close(); end() }, nil
}
