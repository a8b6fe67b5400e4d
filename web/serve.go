package web

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"sync"
	"time"
)

// mostConnections bounds the connections that are open at a time; more wait.
const mostConnections = 1000

// Serve answers on the listener until ctx ends. certificate and key are files
// of PEM for TLS, both empty for plain HTTP.
func Serve(ctx context.Context, listener net.Listener, h http.Handler, certificate, key string) error {
	server := &http.Server{
		Handler:           h,
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       time.Minute, // of a request with its body
		IdleTimeout:       time.Minute,
		MaxHeaderBytes:    64 << 10,
		BaseContext:       func(net.Listener) context.Context { return ctx },
	}
	listener = &bounded{Listener: listener, free: make(chan struct{}, mostConnections)}
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

// bounded is a listener with a limited number of connections.
type bounded struct {
	net.Listener
	free chan struct{}
}

func (b *bounded) Accept() (net.Conn, error) {
	b.free <- struct{}{}
	conn, err := b.Listener.Accept()
	if err != nil {
		<-b.free
		return nil, err
	}
	return &counted{Conn: conn, free: b.free}, nil
}

type counted struct {
	net.Conn
	free chan struct{}
	once sync.Once
}

func (c *counted) Close() error {
	c.once.Do(func() { <-c.free })
	return c.Conn.Close()
}
