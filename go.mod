module ionwright

go 1.26.0

require (
	cel.dev/cel-go v0.33.2 // indirect
	github.com/chromedp/cdproto v0.159.0 // indirect
	github.com/chromedp/chromedp v0.23.0 // indirect
	github.com/fsnotify/fsnotify v1.10.1 // indirect
	github.com/go-json-experiment/json v0.0.0-20260213210345-44df1a37e875 // indirect
	github.com/goccy/go-yaml v1.19.2 // indirect
	github.com/rogpeppe/go-internal v1.16.0 // indirect
	github.com/yuin/goldmark v1.8.7 // indirect
	golang.org/x/sys v0.50.0 // indirect
	golang.org/x/term v0.48.0 // indirect
	honnef.co/go/tools v0.8.2 // indirect
)
