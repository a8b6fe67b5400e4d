package main

import (
	"context"
	"errors"
	"fmt"
	"net"
	"os"
	"os/exec"
	"runtime"
	"strconv"
	"strings"

	"ionwright/lesson/shelf"
	"ionwright/web"
)

const (
	// usualPort is tried first, so that the address stays the same from run to
	// run.
	usualPort = 8370
	// usualFolder is where lessons are kept when no folder is named. It is made
	// when the first lesson is.
	usualFolder = "lessons"
	// passwordVariable of the environment holds the password where there is no
	// file with it.
	passwordVariable = "IONWRIGHT_PASSWORD"
)

// serving is how the command was asked to serve.
type serving struct {
	port         int
	listen       string
	open         bool
	passwordFile string
	certificate  string
	key          string
}

func runServe(ctx context.Context, c *call) error {
	var o serving
	c.flags.IntVar(&o.port, "port", 0, "the `N`umber of the port (default: "+strconv.Itoa(usualPort)+", or any that is free)")
	c.flags.StringVar(&o.listen, "listen", "127.0.0.1", "the `ADDRESS` to listen at; any but this machine's own needs a password")
	c.flags.BoolVar(&o.open, "open", false, "open the page in the browser")
	c.flags.StringVar(&o.passwordFile, "password-file", "", "a `FILE` with the password that visitors must give, or its argon2id hash (or set "+passwordVariable+")")
	c.flags.StringVar(&o.certificate, "cert", "", "a `FILE` with the certificate for TLS")
	c.flags.StringVar(&o.key, "key", "", "a `FILE` with the certificate's private key")
	args, err := c.parse(0, 1)
	if err != nil {
		return err
	}
	if o.port < 0 || o.port > 65535 {
		return wrongUsage("there is no port %d", o.port)
	}
	if (o.certificate == "") != (o.key == "") {
		return wrongUsage("--cert and --key go together")
	}
	folder := usualFolder
	if len(args) == 1 {
		folder = args[0]
		if _, err := os.Stat(folder); err != nil {
			return fmt.Errorf("opening the folder %q: %w\nhint: \"ionwright new %s\" makes it, with a lesson to begin with", folder, reason(err), folder)
		}
	}
	lessons, err := shelf.Open(folder)
	if err != nil {
		return err
	}
	hash, err := o.passwordHash()
	if err != nil {
		return err
	}
	app, err := web.New(ctx, web.Options{Lessons: lessons, PasswordHash: hash, Secure: o.certificate != "",
		Report: func(line string) { fmt.Fprintln(c.errOut, line) }})
	if err != nil {
		return err
	}
	listener, err := listen(o.listen, o.port)
	if err != nil {
		return err
	}
	scheme := "http"
	if o.certificate != "" {
		scheme = "https"
	}
	address := scheme + "://" + listener.Addr().String() + "/"
	if c.json {
		if err := c.printJSON(map[string]string{"url": address}); err != nil {
			return err
		}
	} else {
		c.print("%s", address)
	}
	fmt.Fprintf(c.errOut, "lessons are kept in %s\n", lessons.Dir())
	if !loopback(o.listen) {
		fmt.Fprintf(c.errOut, "listening beyond this machine: visitors must give the password\n")
		if o.certificate == "" {
			fmt.Fprintf(c.errOut, "caution: without --cert and --key the connection isn't encrypted; use it in a network you trust\n")
		}
	}
	if o.open {
		if err := openBrowser(ctx, address); err != nil {
			fmt.Fprintf(c.errOut, "ionwright serve: opening the browser: %v\n", err)
		}
	}
	go app.Warm()
	return web.Serve(ctx, listener, app.Handler(), o.certificate, o.key)
}

// passwordHash is the hash of the password that visitors must give; empty
// where none is asked for, which is only allowed on this machine.
func (o serving) passwordHash() (string, error) {
	password, from := os.Getenv(passwordVariable), passwordVariable
	if o.passwordFile != "" {
		text, err := os.ReadFile(o.passwordFile)
		if err != nil {
			return "", fmt.Errorf("reading the password from %q: %w", o.passwordFile, reason(err))
		}
		password, from = strings.TrimRight(string(text), "\r\n"), strconv.Quote(o.passwordFile)
	}
	switch {
	case password == "" && loopback(o.listen):
		return "", nil
	case password == "":
		return "", fmt.Errorf("listening at %q: beyond this machine a password is needed\nhint: put one of at least %d characters into a file and name it with --password-file", o.listen, web.MinPassword)
	case strings.HasPrefix(password, "$argon2id$"):
		return password, nil
	}
	hash, err := web.HashPassword(password)
	if err != nil {
		return "", fmt.Errorf("taking the password from %s: %w", from, err)
	}
	return hash, nil
}

// loopback reports whether an address to listen at is this machine's own.
func loopback(host string) bool {
	ip := net.ParseIP(strings.Trim(host, "[]"))
	return host == "localhost" || ip != nil && ip.IsLoopback()
}

// listen opens the port.
func listen(host string, port int) (net.Listener, error) {
	wanted := port
	if wanted == 0 {
		wanted = usualPort
	}
	host = strings.Trim(host, "[]")
	listener, err := net.Listen("tcp", net.JoinHostPort(host, strconv.Itoa(wanted)))
	if err != nil && port == 0 {
		listener, err = net.Listen("tcp", net.JoinHostPort(host, "0"))
	}
	if err != nil {
		var where *net.DNSError
		if errors.As(err, &where) {
			return nil, fmt.Errorf("listening at %q: %w\nhint: give an address of this machine, such as 0.0.0.0 for all of them", host, err)
		}
		return nil, fmt.Errorf("listening on port %d: %w\nhint: another program may use it; choose one with --port", wanted, err)
	}
	return listener, nil
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
