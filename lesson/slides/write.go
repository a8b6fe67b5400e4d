package slides

import (
	"archive/zip"
	"fmt"
	"io"
	"strings"
)

// Namespaces and types of relationships and parts (ECMA-376 part 1, annex A,
// and part 2, annex E; the transitional forms, which all programs read).
const (
	nsDrawing      = "http://schemas.openxmlformats.org/drawingml/2006/main"
	nsPresentation = "http://schemas.openxmlformats.org/presentationml/2006/main"
	nsDocument     = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	nsPackage      = "http://schemas.openxmlformats.org/package/2006/relationships"
	nsTypes        = "http://schemas.openxmlformats.org/package/2006/content-types"
	nsCore         = "http://schemas.openxmlformats.org/package/2006/metadata/core-properties"
	nsExtended     = "http://schemas.openxmlformats.org/officeDocument/2006/extended-properties"

	mimePresentation = "application/vnd.openxmlformats-officedocument.presentationml."
	mimeTheme        = "application/vnd.openxmlformats-officedocument.theme+xml"
	mimeExtended     = "application/vnd.openxmlformats-officedocument.extended-properties+xml"
	mimeCore         = "application/vnd.openxmlformats-package.core-properties+xml"
)

// Write writes the deck as a .pptx file. It fails for a deck without slides and
// where w does.
func Write(w io.Writer, d Deck) error {
	if len(d.Slides) == 0 {
		return fmt.Errorf("writing the slides %q: there are none", d.Title)
	}
	p := &writer{deck: d, media: map[string]string{}}
	p.build()
	z := zip.NewWriter(w)
	for _, part := range p.parts {
		f, err := z.CreateHeader(&zip.FileHeader{Name: part.name, Method: zip.Deflate}) // without a time: equal bytes
		if err == nil {
			_, err = f.Write(part.data)
		}
		if err != nil {
			return fmt.Errorf("writing the slides %q: the part %s: %w", d.Title, part.name, err)
		}
	}
	if err := z.Close(); err != nil {
		return fmt.Errorf("writing the slides %q: %w", d.Title, err)
	}
	return nil
}

// part is a file of the package.
type part struct {
	name string
	mime string // empty: by its ending
	data []byte
}

// writer collects the parts of a package.
type writer struct {
	deck  Deck
	parts []part
	media map[string]string // the names of pictures by their bytes
}

func (p *writer) add(name, mime, text string) {
	p.parts = append(p.parts, part{name, mime, []byte(`<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n" + text)})
}

// relation is a relationship of a part; its id is "rId" and its place in the
// list, from 1.
type relation struct{ kind, target string }

// relate writes the relationships of a part.
func (p *writer) relate(of string, all ...relation) {
	var b strings.Builder
	fmt.Fprintf(&b, `<Relationships xmlns="%s">`, nsPackage)
	for i, r := range all {
		kind := r.kind
		if !strings.Contains(kind, ":") {
			kind = nsDocument + "/" + kind
		}
		fmt.Fprintf(&b, `<Relationship Id="rId%d" Type="%s" Target="%s"/>`, i+1, kind, r.target)
	}
	b.WriteString(`</Relationships>`)
	folder, file := "", of
	if i := strings.LastIndexByte(of, '/'); i >= 0 {
		folder, file = of[:i+1], of[i+1:]
	}
	p.add(folder+"_rels/"+file+".rels", "", b.String())
}

const (
	layoutOpening = 1 + iota
	layoutContent
)

// build writes all parts, the list of their types last.
func (p *writer) build() {
	slides := p.deck.paged()
	p.relate("", relation{"officeDocument", "ppt/presentation.xml"},
		relation{"http://schemas.openxmlformats.org/package/2006/relationships/metadata/core-properties", "docProps/core.xml"},
		relation{"extended-properties", "docProps/app.xml"})
	p.properties(len(slides))
	notes := false
	for _, s := range slides {
		notes = notes || s.Notes != nil
	}
	p.presentation(len(slides), notes)
	p.add("ppt/theme/theme1.xml", mimeTheme, theme(p.deck.Colors))
	p.master()
	if notes {
		p.add("ppt/theme/theme2.xml", mimeTheme, theme(p.deck.Colors))
		p.notesMaster()
	}
	for i, s := range slides {
		p.slide(i+1, s)
	}
	p.types()
}

// types lists the type of every part. It goes first in the package.
func (p *writer) types() {
	var b strings.Builder
	fmt.Fprintf(&b, `<Types xmlns="%s"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>`+
		`<Default Extension="xml" ContentType="application/xml"/><Default Extension="png" ContentType="image/png"/>`, nsTypes)
	for _, part := range p.parts {
		if part.mime != "" {
			fmt.Fprintf(&b, `<Override PartName="/%s" ContentType="%s"/>`, part.name, part.mime)
		}
	}
	b.WriteString(`</Types>`)
	rest := p.parts
	p.parts = nil
	p.add("[Content_Types].xml", "", b.String())
	p.parts = append(p.parts, rest...)
}

// properties writes what the file says about itself. There is no date: equal
// decks give equal bytes.
func (p *writer) properties(slides int) {
	creator := ""
	if p.deck.Author != "" {
		creator = `<dc:creator>` + escape(p.deck.Author) + `</dc:creator>`
	}
	p.add("docProps/core.xml", mimeCore, fmt.Sprintf(
		`<cp:coreProperties xmlns:cp="%s" xmlns:dc="http://purl.org/dc/elements/1.1/"><dc:title>%s</dc:title>%s<dc:language>%s</dc:language></cp:coreProperties>`,
		nsCore, escape(p.deck.Title), creator, escape(p.deck.Language)))
	p.add("docProps/app.xml", mimeExtended, fmt.Sprintf(
		`<Properties xmlns="%s"><Slides>%d</Slides><Application>Ionwright</Application></Properties>`, nsExtended, slides))
}

// presentation lists masters and slides.
func (p *writer) presentation(slides int, notes bool) {
	relations := []relation{{"slideMaster", "slideMasters/slideMaster1.xml"}, {"theme", "theme/theme1.xml"}}
	var list strings.Builder
	const firstID = 256 // the least id of a slide (ECMA-376 part 1, 19.7.13)
	for i := range slides {
		relations = append(relations, relation{"slide", fmt.Sprintf("slides/slide%d.xml", i+1)})
		fmt.Fprintf(&list, `<p:sldId id="%d" r:id="rId%d"/>`, firstID+i, len(relations))
	}
	master := ""
	if notes {
		relations = append(relations, relation{"notesMaster", "notesMasters/notesMaster1.xml"})
		master = fmt.Sprintf(`<p:notesMasterIdLst><p:notesMasterId r:id="rId%d"/></p:notesMasterIdLst>`, len(relations))
	}
	p.add("ppt/presentation.xml", mimePresentation+"presentation.main+xml", fmt.Sprintf(
		`<p:presentation %s saveSubsetFonts="1"><p:sldMasterIdLst><p:sldMasterId id="2147483648" r:id="rId1"/></p:sldMasterIdLst>%s<p:sldIdLst>%s</p:sldIdLst>`+
			`<p:sldSz cx="%d" cy="%d"/><p:notesSz cx="6858000" cy="9144000"/></p:presentation>`,
		namespaces, master, list.String(), slideWidth, slideHeight))
	p.relate("ppt/presentation.xml", relations...)
}

// namespaces are the declarations of a presentation's parts.
const namespaces = `xmlns:a="` + nsDrawing + `" xmlns:r="` + nsDocument + `" xmlns:p="` + nsPresentation + `"`

// picture is the name of the part that holds a picture, in ppt/media; the same
// bytes are kept once.
func (p *writer) picture(png []byte) string {
	if name, ok := p.media[string(png)]; ok {
		return name
	}
	name := fmt.Sprintf("image%d.png", len(p.media)+1)
	p.media[string(png)] = name
	p.parts = append(p.parts, part{"ppt/media/" + name, "", png})
	return name
}
