package slides

import (
	"fmt"
	"strings"
)

// theme is the deck's colours and faces. The faces are ones that every program
// has or has a match for.
func theme(c Colors) string {
	color := func(name, value string) string {
		return fmt.Sprintf(`<a:%s><a:srgbClr val="%s"/></a:%s>`, name, strings.TrimPrefix(value, "#"), name)
	}
	accents := ""
	for i := range 6 {
		accents += color(fmt.Sprintf("accent%d", i+1), c.Accent)
	}
	font := func(name string) string {
		return fmt.Sprintf(`<a:%s><a:latin typeface="Arial"/><a:ea typeface=""/><a:cs typeface=""/></a:%s>`, name, name)
	}
	fill := `<a:solidFill><a:schemeClr val="phClr"/></a:solidFill>`
	line := `<a:ln w="9525">` + fill + `</a:ln>`
	effect := `<a:effectStyle><a:effectLst/></a:effectStyle>`
	return `<a:theme xmlns:a="` + nsDrawing + `" name="Ionwright"><a:themeElements><a:clrScheme name="Ionwright">` +
		color("dk1", c.Ink) + color("lt1", c.Paper) + color("dk2", c.Muted) + color("lt2", c.Paper) + accents +
		color("hlink", c.Accent) + color("folHlink", c.Accent) + `</a:clrScheme><a:fontScheme name="Ionwright">` +
		font("majorFont") + font("minorFont") + `</a:fontScheme><a:fmtScheme name="Ionwright">` +
		`<a:fillStyleLst>` + strings.Repeat(fill, 3) + `</a:fillStyleLst><a:lnStyleLst>` + strings.Repeat(line, 3) + `</a:lnStyleLst>` +
		`<a:effectStyleLst>` + strings.Repeat(effect, 3) + `</a:effectStyleLst><a:bgFillStyleLst>` + strings.Repeat(fill, 3) + `</a:bgFillStyleLst>` +
		`</a:fmtScheme></a:themeElements></a:theme>`
}

const colorMap = `<p:clrMap bg1="lt1" tx1="dk1" bg2="lt2" tx2="dk2" accent1="accent1" accent2="accent2" accent3="accent3" ` +
	`accent4="accent4" accent5="accent5" accent6="accent6" hlink="hlink" folHlink="folHlink"/>`

const background = `<p:cSld><p:bg><p:bgRef idx="1001"><a:schemeClr val="bg1"/></p:bgRef></p:bg><p:spTree>`

// withBackground puts a background behind a tree of shapes.
func withBackground(tree string) string {
	return strings.Replace(tree, `<p:cSld><p:spTree>`, background, 1)
}

// level is the style of a list's first level.
func level(size float64, color string, bold bool) string {
	b := ""
	if bold {
		b = ` b="1"`
	}
	return fmt.Sprintf(`<a:lvl1pPr marL="0" indent="0" algn="l"><a:lnSpc><a:spcPct val="100000"/></a:lnSpc><a:buNone/><a:defRPr sz="%d"%s><a:solidFill><a:schemeClr val="%s"/></a:solidFill>`+
		`<a:latin typeface="+mn-lt"/><a:ea typeface="+mn-ea"/><a:cs typeface="+mn-cs"/></a:defRPr></a:lvl1pPr>`, int(size*100), b, color)
}

// master writes the slide master and its layouts.
func (p *writer) master() {
	tree := newShapes(p.deck.Language)
	empty := tree.paragraphs(nil, 0)
	tree.text("Title", `type="title"`, &titleBox, empty)
	tree.text("Text", `type="body" idx="1"`, &bodyBox, empty)
	p.numberShape(tree)
	p.add("ppt/slideMasters/slideMaster1.xml", mimePresentation+"slideMaster+xml", `<p:sldMaster `+namespaces+`>`+withBackground(tree.done())+colorMap+
		fmt.Sprintf(`<p:sldLayoutIdLst><p:sldLayoutId id="2147483649" r:id="rId%d"/><p:sldLayoutId id="2147483650" r:id="rId%d"/></p:sldLayoutIdLst>`, layoutOpening, layoutContent)+
		`<p:txStyles><p:titleStyle>`+level(titleSize, "accent1", true)+`</p:titleStyle><p:bodyStyle>`+level(bodySize, "tx1", false)+`</p:bodyStyle>`+
		`<p:otherStyle>`+level(captionSize, "tx1", false)+`</p:otherStyle></p:txStyles></p:sldMaster>`)
	p.relate("ppt/slideMasters/slideMaster1.xml", relation{"slideLayout", "../slideLayouts/slideLayout1.xml"},
		relation{"slideLayout", "../slideLayouts/slideLayout2.xml"}, relation{"theme", "../theme/theme1.xml"})

	tree = newShapes(p.deck.Language)
	tree.text("Title", `type="ctrTitle"`, &openingBox, empty)
	tree.text("Subtitle", `type="subTitle" idx="1"`, &belowBox, empty)
	p.layout(layoutOpening, "title", "Opening", tree)

	tree = newShapes(p.deck.Language)
	tree.text("Title", `type="title"`, nil, empty)
	tree.text("Text", `idx="1"`, nil, empty)
	p.numberShape(tree)
	p.layout(layoutContent, "obj", "Content", tree)
}

func (p *writer) layout(n int, kind, name string, tree *shapes) {
	file := fmt.Sprintf("ppt/slideLayouts/slideLayout%d.xml", n)
	text := strings.Replace(tree.done(), `<p:cSld>`, `<p:cSld name="`+name+`">`, 1)
	p.add(file, mimePresentation+"slideLayout+xml", fmt.Sprintf(`<p:sldLayout %s type="%s" preserve="1">%s<p:clrMapOvr><a:masterClrMapping/></p:clrMapOvr></p:sldLayout>`, namespaces, kind, text))
	p.relate(file, relation{"slideMaster", "../slideMasters/slideMaster1.xml"})
}

// numberShape is where the number of a slide stands.
func (p *writer) numberShape(tree *shapes) {
	tree.text("Slide number", `type="sldNum" sz="quarter" idx="12"`, &numberBox, fmt.Sprintf(
		`<a:p><a:pPr algn="r"/><a:fld id="{6C8D2C1E-5B0A-4E0B-9B1E-0D6A3F6C7A01}" type="slidenum"><a:rPr lang="%s" sz="%d"><a:solidFill><a:schemeClr val="tx2"/></a:solidFill><a:latin typeface="+mn-lt"/></a:rPr><a:t>‹#›</a:t></a:fld></a:p>`,
		escape(p.deck.Language), noteSize*100))
}

// notesMaster writes the master of the notes pages.
func (p *writer) notesMaster() {
	tree := newShapes(p.deck.Language)
	fmt.Fprintf(&tree.b, `<p:sp><p:nvSpPr><p:cNvPr id="%d" name="Slide"/><p:cNvSpPr><a:spLocks noGrp="1" noRot="1" noChangeAspect="1"/></p:cNvSpPr>`+
		`<p:nvPr><p:ph type="sldImg" idx="2"/></p:nvPr></p:nvSpPr><p:spPr>%s<a:prstGeom prst="rect"><a:avLst/></a:prstGeom></p:spPr></p:sp>`,
		tree.next, box{685_800, 1_143_000, 5_486_400, 3_086_100}.transform())
	tree.next++
	tree.text("Notes", `type="body" sz="quarter" idx="3"`, &box{685_800, 4_400_550, 5_486_400, 3_600_450}, tree.paragraphs(nil, 0))
	p.add("ppt/notesMasters/notesMaster1.xml", mimePresentation+"notesMaster+xml", `<p:notesMaster `+namespaces+`>`+withBackground(tree.done())+colorMap+
		`<p:notesStyle>`+level(noteSize, "tx1", false)+`</p:notesStyle></p:notesMaster>`)
	p.relate("ppt/notesMasters/notesMaster1.xml", relation{"theme", "../theme/theme2.xml"})
}
