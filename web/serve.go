package web

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"time"
)

const (
	// mostConnections bounds the connections that are open at a time. Where
	// there are more, the one that has waited longest without a request goes.
	mostConnections = 2000
	// headerPatience is how long the head of a request may take.
	headerPatience = 5 * time.Second
	// bodyPatience is how long a request with its body may take to come, and an
	// answer to be fetched.
	bodyPatience = time.Minute
)

// Serve answers on the listener until ctx ends. certificate and key are files
// of PEM for TLS, both empty for plain HTTP.
func Serve(ctx context.Context, listener net.Listener, h http.Handler, certificate, key string) error {
	waiting := newWaiting(mostConnections)
	server := &http.Server{
		Handler:           h,
		ReadHeaderTimeout: headerPatience,
		ReadTimeout:       bodyPatience,
		IdleTimeout:       bodyPatience,
		MaxHeaderBytes:    64 << 10,
		BaseContext:       func(net.Listener) context.Context { return ctx },
		ConnState:         waiting.note,
	}
	served := make(chan error, 1)
	go func() {
		if certificate != "" {
			served <- server.ServeTLS(listener, certificate, key)
			return
		}
		served <- server.Serve(listener)
	}()
	select {
	case err := <-served:
		return fmt.Errorf("serving: %w", err)
	case <-ctx.Done():
	}
	const patience = 3 * time.Second
	end, cancel := context.WithTimeout(context.WithoutCancel(ctx), patience)
	defer cancel()
	if err := server.Shutdown(end); err != nil && !errors.Is(err, context.DeadlineExceeded) {
		return fmt.Errorf("ending the server: %w", err)
	}
	return nil
}
