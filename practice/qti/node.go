package qti

import (
	"bufio"
	"encoding/xml"
	"io"
	"slices"
	"strings"
)

// node is an element with version 3.0's names; version 2.2 has the same
// elements and attributes without the prefix and in camel case.
type node struct {
	name     string
	attrs    []string // name, value, name, value ...
	text     string
	children []*node
}

func el(name string, attrs ...string) *node { return &node{name: name, attrs: attrs} }

func (n *node) add(children ...*node) *node {
	n.children = append(n.children, children...)
	return n
}

func (n *node) say(text string) *node {
	n.text = text
	return n
}

// words is a piece of text among elements.
func words(text string) *node { return &node{text: text} }

// The namespaces of items and tests.
const (
	space22 = "http://www.imsglobal.org/xsd/imsqti_v2p2"
	space30 = "http://www.imsglobal.org/xsd/imsqtiasi_v3p0"
)

// plainNames are the attributes that both versions write alike.
var plainNames = []string{"xml:lang", "aria-label"}

func write(w io.Writer, n *node, v Version) error {
	if strings.HasPrefix(n.name, "qti-") {
		space := space30
		if v == V22 {
			space = space22
		}
		n = &node{n.name, slices.Concat(n.attrs, []string{"xmlns", space}), n.text, n.children}
	}
	b := bufio.NewWriter(w)
	_, _ = b.WriteString(xml.Header)
	n.write(b, v)
	_ = b.WriteByte('\n')
	return b.Flush()
}

func (n *node) write(b *bufio.Writer, v Version) {
	if n.name == "" {
		_ = xml.EscapeText(b, []byte(n.text))
		return
	}
	if n.name == "qti-content-body" && v == V22 { // version 2.2 has its content without this box
		for _, c := range n.children {
			c.write(b, v)
		}
		return
	}
	name := n.name
	ours := strings.HasPrefix(name, "qti-")
	if ours && v == V22 {
		name = camel(strings.TrimPrefix(name, "qti-"))
	}
	_, _ = b.WriteString("<" + name)
	for i := 0; i+1 < len(n.attrs); i += 2 {
		key := n.attrs[i]
		if ours && v == V22 && !slices.Contains(plainNames, key) {
			key = camel(key)
		}
		_, _ = b.WriteString(" " + key + `="`)
		_ = xml.EscapeText(b, []byte(n.attrs[i+1]))
		_ = b.WriteByte('"')
	}
	if n.text == "" && len(n.children) == 0 {
		_, _ = b.WriteString("/>")
		return
	}
	_ = b.WriteByte('>')
	_ = xml.EscapeText(b, []byte(n.text))
	for _, c := range n.children {
		c.write(b, v)
	}
	_, _ = b.WriteString("</" + name + ">")
}

// camel turns response-identifier into responseIdentifier.
func camel(s string) string {
	parts := strings.Split(s, "-")
	for i := 1; i < len(parts); i++ {
		if parts[i] != "" {
			parts[i] = strings.ToUpper(parts[i][:1]) + parts[i][1:]
		}
	}
	return strings.Join(parts, "")
}
