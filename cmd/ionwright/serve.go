package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"net"
	"net/http"
	"os/exec"
	"runtime"
	"strconv"
	"time"

	"ionwright/lesson"
	"ionwright/lesson/example"
	"ionwright/web/preview"
)

// usualPort is tried first, so that the address stays the same from run to
// run.
const usualPort = 8370

func runServe(ctx context.Context, c *call) error {
	port := c.flags.Int("port", 0, "the `N`umber of the port (default: "+strconv.Itoa(usualPort)+", or any that is free)")
	open := c.flags.Bool("open", false, "open the page in the browser")
	args, err := c.parse(0, 1)
	if err != nil {
		return err
	}
	if *port < 0 || *port > 65535 {
		return wrongUsage("there is no port %d", *port)
	}
	files, folder := example.Bottles(), ""
	if len(args) == 1 {
		folder = args[0]
		if files, err = lesson.Open(folder); err != nil {
			return err
		}
	}
	listener, err := listen(*port)
	if err != nil {
		return err
	}
	address := "http://" + listener.Addr().String() + "/"
	if c.json {
		if err := c.printJSON(map[string]string{"url": address}); err != nil {
			return err
		}
	} else {
		c.print("%s", address)
	}
	if *open {
		if err := openBrowser(ctx, address); err != nil {
			fmt.Fprintf(c.errOut, "ionwright serve: opening the browser: %v\n", err)
		}
	}
	return c.serve(ctx, listener, files, folder)
}

// listen opens the port on this machine only.
func listen(port int) (net.Listener, error) {
	wanted := port
	if wanted == 0 {
		wanted = usualPort
	}
	listener, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(wanted)))
	if err != nil && port == 0 {
		listener, err = net.Listen("tcp", "127.0.0.1:0")
	}
	if err != nil {
		return nil, fmt.Errorf("listening on port %d: %w\nhint: another program may use it; choose one with --port", wanted, err)
	}
	return listener, nil
}

// serve shows the lesson until ctx ends. Without a folder there is nothing to
// watch.
func (c *call) serve(ctx context.Context, listener net.Listener, files fs.FS, folder string) error {
	s := preview.New(files)
	report := func(state preview.State) {
		printDiagnostics(c.errOut, state.Diagnostics)
		fmt.Fprintln(c.errOut, state.Summary())
	}
	web := &http.Server{
		Handler: s.Handler(), ReadHeaderTimeout: 5 * time.Second,
		BaseContext: func(net.Listener) context.Context { return ctx },
	}
	served := make(chan error, 1)
	go func() { served <- web.Serve(listener) }()
	watched := make(chan error, 1)
	go func() {
		report(s.Build(ctx))
		switch {
		case ctx.Err() != nil:
		case folder == "":
			fmt.Fprintln(c.errOut, "this is the example lesson; \"ionwright new --example FOLDER\" gives you a copy to change")
		default:
			watched <- s.Watch(ctx, folder, packFolder, report)
		}
	}()
	for {
		select {
		case err := <-watched:
			if err != nil {
				fmt.Fprintf(c.errOut, "ionwright serve: %v\nhint: the pages stay as they are; start again to watch\n", err)
			}
		case err := <-served:
			return fmt.Errorf("serving: %w", err)
		case <-ctx.Done():
			const patience = 3 * time.Second
			end, cancel := context.WithTimeout(context.Background(), patience)
			defer cancel()
			if err := web.Shutdown(end); err != nil && !errors.Is(err, context.DeadlineExceeded) {
				return fmt.Errorf("ending the server: %w", err)
			}
			return nil
		}
	}
}

// openBrowser asks the desktop to show an address.
func openBrowser(ctx context.Context, address string) error {
	name, args := "xdg-open", []string{address}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", address}
	}
	return exec.CommandContext(ctx, name, args...).Start()
}
