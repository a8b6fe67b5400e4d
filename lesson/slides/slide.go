package slides

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"strings"
)

// escape makes text fit for XML; characters that XML can't hold are replaced.
func escape(s string) string {
	var b bytes.Buffer
	_ = xml.EscapeText(&b, []byte(s)) // a buffer doesn't fail
	return b.String()
}

// shapes collects the shapes of a slide in reading order; ids begin with 2,
// since the tree itself is 1.
type shapes struct {
	b        strings.Builder
	next     int
	language string
}

func newShapes(language string) *shapes {
	s := &shapes{next: 2, language: language}
	s.b.WriteString(`<p:cSld><p:spTree><p:nvGrpSpPr><p:cNvPr id="1" name=""/><p:cNvGrpSpPr/><p:nvPr/></p:nvGrpSpPr>` +
		`<p:grpSpPr><a:xfrm><a:off x="0" y="0"/><a:ext cx="0" cy="0"/><a:chOff x="0" y="0"/><a:chExt cx="0" cy="0"/></a:xfrm></p:grpSpPr>`)
	return s
}

func (s *shapes) done() string { return s.b.String() + `</p:spTree></p:cSld>` }

// text adds a shape with paragraphs: a placeholder where it has a kind (such as
// `type="title"`), a box of its own where it is empty.
func (s *shapes) text(name, placeholder string, at *box, paragraphs string) {
	as, lock := `<p:cNvSpPr txBox="1"/>`, `<p:nvPr/>`
	if placeholder != "" {
		as, lock = `<p:cNvSpPr><a:spLocks noGrp="1"/></p:cNvSpPr>`, `<p:nvPr><p:ph `+placeholder+`/></p:nvPr>`
	}
	where := `<p:spPr/>`
	if at != nil {
		where = `<p:spPr>` + at.transform() + `<a:prstGeom prst="rect"><a:avLst/></a:prstGeom></p:spPr>`
	}
	fmt.Fprintf(&s.b, `<p:sp><p:nvSpPr><p:cNvPr id="%d" name="%s"/>%s%s</p:nvSpPr>%s<p:txBody><a:bodyPr lIns="0" rIns="0"><a:normAutofit/></a:bodyPr><a:lstStyle/>%s</p:txBody></p:sp>`,
		s.next, escape(name), as, lock, where, paragraphs)
	s.next++
}

// number adds the slide's number, which the program that shows it fills in.
func (s *shapes) number(n int) {
	s.text("Slide number", `type="sldNum" sz="quarter" idx="12"`, nil, fmt.Sprintf(
		`<a:p><a:fld id="{6C8D2C1E-5B0A-4E0B-9B1E-0D6A3F6C7A01}" type="slidenum"><a:rPr lang="%s"><a:latin typeface="+mn-lt"/></a:rPr><a:t>%d</a:t></a:fld></a:p>`, escape(s.language), n))
}

// picture adds a picture with its alternative text.
func (s *shapes) picture(p *Picture, relation string, at box) {
	fmt.Fprintf(&s.b, `<p:pic><p:nvPicPr><p:cNvPr id="%d" name="%s" descr="%s"/><p:cNvPicPr><a:picLocks noChangeAspect="1"/></p:cNvPicPr><p:nvPr/></p:nvPicPr>`+
		`<p:blipFill><a:blip r:embed="%s"/><a:stretch><a:fillRect/></a:stretch></p:blipFill><p:spPr>%s<a:prstGeom prst="rect"><a:avLst/></a:prstGeom></p:spPr></p:pic>`,
		s.next, escape(p.Name), escape(p.Alt), relation, at.transform())
	s.next++
}

func (b box) transform() string {
	return fmt.Sprintf(`<a:xfrm><a:off x="%d" y="%d"/><a:ext cx="%d" cy="%d"/></a:xfrm>`, b.x, b.y, b.w, b.h)
}

// paragraphs writes text at a size in points; 0: the placeholder's.
func (s *shapes) paragraphs(all []Paragraph, size float64) string {
	if len(all) == 0 {
		return `<a:p><a:endParaRPr lang="` + escape(s.language) + `"/></a:p>`
	}
	var b strings.Builder
	for _, p := range all {
		b.WriteString(`<a:p><a:pPr`)
		hang := emu(0)
		if p.Bullet {
			hang = indent(p)
		}
		fmt.Fprintf(&b, ` marL="%d" indent="%d"`, indent(p), -hang)
		fmt.Fprintf(&b, `><a:spcBef><a:spcPct val="%d"/></a:spcBef>`, int(paragraphGap*100_000))
		if p.Bullet {
			b.WriteString(`<a:buFont typeface="Arial"/><a:buChar char="•"/>`)
		} else {
			b.WriteString(`<a:buNone/>`)
		}
		b.WriteString(`</a:pPr>`)
		for _, r := range p.Runs {
			b.WriteString(s.run(r, size, p.Muted))
		}
		b.WriteString(`</a:p>`)
	}
	return b.String()
}

func (s *shapes) run(r Run, size float64, muted bool) string {
	var b strings.Builder
	fmt.Fprintf(&b, `<a:r><a:rPr lang="%s"`, escape(s.language))
	if size > 0 {
		fmt.Fprintf(&b, ` sz="%d"`, int(size*100))
	}
	if r.Bold {
		b.WriteString(` b="1"`)
	}
	if r.Italic {
		b.WriteString(` i="1"`)
	}
	switch r.Script {
	case Sub:
		b.WriteString(` baseline="-25000"`)
	case Super:
		b.WriteString(` baseline="30000"`)
	}
	fill := ""
	if muted {
		fill = `<a:solidFill><a:schemeClr val="tx2"/></a:solidFill>`
	}
	fmt.Fprintf(&b, ` dirty="0">%s</a:rPr><a:t>%s</a:t></a:r>`, fill, escape(r.Text))
	return b.String()
}

// slide writes a slide with its notes page.
func (p *writer) slide(n int, s Slide) {
	name := fmt.Sprintf("ppt/slides/slide%d.xml", n)
	layout := layoutContent
	if s.Opening {
		layout = layoutOpening
	}
	relations := []relation{{"slideLayout", fmt.Sprintf("../slideLayouts/slideLayout%d.xml", layout)}}
	tree := newShapes(p.deck.Language)
	if s.Opening {
		p.opening(tree, s)
	} else {
		size := float64(titleSize)
		for size > leastSize && lines(TextOf(s.Title), titleBox.w, size) > 2 {
			size -= 2
		}
		tree.text("Title", `type="title"`, nil, tree.paragraphs([]Paragraph{{Runs: s.Title}}, size))
		relations = p.content(tree, s, relations)
	}
	if !s.Opening {
		tree.number(n)
	}
	p.add(name, mimePresentation+"slide+xml", `<p:sld `+namespaces+`>`+tree.done()+`<p:clrMapOvr><a:masterClrMapping/></p:clrMapOvr></p:sld>`)
	if s.Notes != nil {
		relations = append(relations, relation{"notesSlide", fmt.Sprintf("../notesSlides/notesSlide%d.xml", n)})
		p.notes(n, s.Notes)
	}
	p.relate(name, relations...)
}

func (p *writer) opening(tree *shapes, s Slide) {
	size, _ := fit([]Paragraph{{Runs: s.Title}}, openingBox, openingSize)
	tree.text("Title", `type="ctrTitle"`, nil, tree.paragraphs([]Paragraph{{Runs: s.Title}}, size))
	size, _ = fit(s.Body, belowBox, bodySize)
	tree.text("Subtitle", `type="subTitle" idx="1"`, nil, tree.paragraphs(s.Body, size))
}

// content adds what stands below the title.
func (p *writer) content(tree *shapes, s Slide, relations []relation) []relation {
	text, picture := bodyBox, bodyBox
	if s.Picture != nil && len(s.Body) > 0 {
		text, picture = beside()
	}
	if len(s.Body) > 0 {
		size, _ := fit(s.Body, text, bodySize)
		tree.text("Text", `idx="1"`, &text, tree.paragraphs(s.Body, size))
	}
	if s.Picture == nil {
		return relations
	}
	caption := box{picture.x, picture.y, picture.w, 0}
	below := []Paragraph{{Runs: s.Caption}}
	if len(s.Caption) > 0 {
		const gap = inch / 10
		caption.h = min(height(below, picture.w, captionSize)+gap, picture.h/3)
		caption.y = picture.y + picture.h - caption.h
		picture.h -= caption.h + gap
	}
	relations = append(relations, relation{"image", "../media/" + p.picture(s.Picture.PNG)})
	tree.picture(s.Picture, fmt.Sprintf("rId%d", len(relations)), s.Picture.place(picture))
	if len(s.Caption) > 0 {
		tree.text("Caption", "", &caption, tree.paragraphs(below, captionSize))
	}
	return relations
}

// notes writes the notes page of a slide.
func (p *writer) notes(n int, notes []string) {
	tree := newShapes(p.deck.Language)
	fmt.Fprintf(&tree.b, `<p:sp><p:nvSpPr><p:cNvPr id="%d" name="Slide"/><p:cNvSpPr><a:spLocks noGrp="1" noRot="1" noChangeAspect="1"/></p:cNvSpPr>`+
		`<p:nvPr><p:ph type="sldImg"/></p:nvPr></p:nvSpPr><p:spPr/></p:sp>`, tree.next)
	tree.next++
	var all []Paragraph
	for _, text := range notes {
		all = append(all, Paragraph{Runs: Plain(text)})
	}
	tree.text("Notes", `type="body" idx="1"`, nil, tree.paragraphs(all, 0))
	name := fmt.Sprintf("ppt/notesSlides/notesSlide%d.xml", n)
	p.add(name, mimePresentation+"notesSlide+xml", `<p:notes `+namespaces+`>`+tree.done()+`<p:clrMapOvr><a:masterClrMapping/></p:clrMapOvr></p:notes>`)
	p.relate(name, relation{"notesMaster", "../notesMasters/notesMaster1.xml"}, relation{"slide", fmt.Sprintf("../slides/slide%d.xml", n)})
}
