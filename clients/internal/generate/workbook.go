package main

import (
	"archive/zip"
	"bytes"
	"fmt"
	"html"
	"strings"
)

// workbooks are ready-made sheets, one for each question, in the two formats that every
// spreadsheet program reads. They hold text and formulas, no scripts.

// book is a workbook before it is written in either format.
type book struct{ sheets []*sheet }

type sheet struct {
	name string
	rows [][]entry
}

// entry is the content of a cell: a text, or a formula in a dialect.
type entry struct {
	text    string
	formula func(dialect) string
	kind    style
}

// style is how a cell looks; the numbers are those of the styles in both formats.
type style int

const (
	plainCell style = iota
	headCell
	inputCell
	noteCell
)

// dialect is how a format writes formulas.
type dialect struct {
	begin, argument string
	call            func(name string) string
	ref             func(sheet, cell string) string
}

var (
	// office writes the functions that came after ECMA-376 with their prefix (MS-XLSX 2.2.2).
	office = dialect{argument: ",",
		call: func(name string) string {
			if name == "CLEAN" || name == "IF" || name == "IFERROR" {
				return name
			}
			return "_xlfn." + name
		},
		ref: func(sheet, cell string) string {
			if sheet == "" {
				return cell
			}
			return "'" + sheet + "'!" + cell
		}}
	// open is OpenFormula (ODF 1.2, part 2), which has no name of its own for some.
	open = dialect{begin: "of:=", argument: ";",
		call: func(name string) string {
			if name == "WEBSERVICE" || name == "ENCODEURL" {
				return "COM.MICROSOFT." + name
			}
			return name
		},
		ref: func(sheet, cell string) string {
			if sheet != "" {
				sheet = "$'" + sheet + "'"
			}
			return "[" + sheet + "." + cell + "]"
		}}
)

// pages are the questions with a sheet, in the order of a keeper's day.
var pages = []struct{ operation, name string }{
	{"getConversion", "Reading"}, {"getSaltMix", "Salt"}, {"getWaterChange", "Water change"},
	{"getTopOff", "Top off"}, {"getVesselVolume", "Vessel"}, {"getTransferPlan", "Move"},
}

const startSheet, addressCell, noAnswer = "Start", "$B$2", "no answer"

// mostInputs is how many parameters a sheet shows; if there are more, only those of the example.
const mostInputs = 30

// newBook lays out the sheets.
func newBook(c *contract) (*book, error) {
	start := &sheet{name: startSheet, rows: [][]entry{
		{{text: "Saltlock " + c.Version, kind: headCell}},
		{{text: "Address of your server"}, {text: c.Server, kind: inputCell}, {text: "Excel and LibreOffice ask from this computer. Allow the file to update its links.", kind: noteCell}},
		{{text: "Change the cells with a frame. Write every quantity with its unit, as 450 L, 120 gal, 2 ppt, 1.010 SG or 26 C."}},
		{{text: "Where a cell says \"" + noAnswer + "\", put the question into a browser: it says what is missing or wrong."}},
		{{text: "A sheet has one number for each question. The plan of a move is more: read it under /plan of your server before you act."}},
	}}
	b := &book{sheets: []*sheet{start}}
	for _, p := range pages {
		o, err := c.Operation(p.operation)
		if err != nil { // a smaller contract has fewer sheets
			continue
		}
		s, err := question(p.name, o)
		if err != nil {
			return nil, err
		}
		b.sheets = append(b.sheets, s)
	}
	return b, nil
}

// question is the sheet of one operation: what goes in, the address that results, and what comes
// out.
func question(name string, o operation) (*sheet, error) {
	s := &sheet{name: name, rows: [][]entry{{{text: o.Summary, kind: headCell}}}}
	var parts []string
	for _, p := range o.Parameters {
		if p.Schema.Value.Type.Is("array") || len(o.Parameters) > mostInputs && !p.Try {
			continue
		}
		row := len(s.rows) + 1
		value := fmt.Sprintf("B%d", row)
		example := p.Example
		if example == nil {
			example = p.Schema.Value.Example
		}
		given, hint := "", p.Description
		switch {
		case p.Try && example != nil:
			given = fmt.Sprint(example)
		case example != nil:
			hint += fmt.Sprintf(" For instance %v.", example)
		case len(p.Schema.Value.Enum) > 0:
			hint += " One of " + strings.Join(enum(p.Schema.Value), ", ") + "."
		}
		s.rows = append(s.rows, []entry{{text: words(p.Name)}, {text: given, kind: inputCell}, {text: hint, kind: noteCell},
			{kind: noteCell, formula: func(d dialect) string {
				of := d.ref("", value)
				return fmt.Sprintf(`%s(%s=""%s""%s"&%s="&%s(%s))`, d.call("IF"), of, d.argument, d.argument, p.Name, d.call("ENCODEURL"), of)
			}}})
		parts = append(parts, fmt.Sprintf("D%d", row))
	}
	s.rows = append(s.rows, nil, []entry{{text: "Question"}, {kind: noteCell, formula: func(d dialect) string {
		refs := make([]string, len(parts))
		for i, p := range parts {
			refs[i] = d.ref("", p)
		}
		return d.ref(startSheet, addressCell) + `&"` + o.Path + `?format=text"&` + strings.Join(refs, "&")
	}}})
	asked := fmt.Sprintf("$B$%d", len(s.rows))
	s.rows = append(s.rows, nil)
	for _, only := range o.Only() {
		meaning, err := field(o, only)
		if err != nil {
			return nil, err
		}
		s.rows = append(s.rows, []entry{{text: words(only)}, {formula: func(d dialect) string {
			return fmt.Sprintf(`%s(%s(%s(%s(%s&"&only=%s"))%s".")%s"%s")`, d.call("IFERROR"), d.call("NUMBERVALUE"), d.call("CLEAN"), d.call("WEBSERVICE"), d.ref("", asked), only, d.argument, d.argument, noAnswer)
		}}, {text: meaning, kind: noteCell}})
	}
	return s, nil
}

// words is a name of the contract as a label.
func words(name string) string {
	text := strings.ReplaceAll(name, "_", " ")
	return strings.ToUpper(text[:1]) + text[1:]
}

// column is the letter of a column, of which there are few.
func columnLetter(i int) string { return string(rune('A' + i)) }

// packed writes named parts as a zip; the same parts make the same bytes.
func packed(parts [][2]string) ([]byte, error) {
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, p := range parts {
		method := zip.Deflate
		if p[0] == "mimetype" { // readers look for it uncompressed at the start
			method = zip.Store
		}
		f, err := w.CreateHeader(&zip.FileHeader{Name: p[0], Method: method})
		if err != nil {
			return nil, err
		}
		if _, err := f.Write([]byte(p[1])); err != nil {
			return nil, err
		}
	}
	err := w.Close()
	return out.Bytes(), err
}

const xmlHead = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n"

// xlsx writes the book by ECMA-376 (Office Open XML).
func (b *book) xlsx() ([]byte, error) {
	var types, sheets, links strings.Builder
	parts := [][2]string{{"[Content_Types].xml", ""}, {"_rels/.rels", xmlHead + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>`}}
	for i, s := range b.sheets {
		n := i + 1
		fmt.Fprintf(&types, `<Override PartName="/xl/worksheets/sheet%d.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/>`, n)
		fmt.Fprintf(&sheets, `<sheet name="%s" sheetId="%d" r:id="r%d"/>`, html.EscapeString(s.name), n, n)
		fmt.Fprintf(&links, `<Relationship Id="r%d" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet%d.xml"/>`, n, n)
		parts = append(parts, [2]string{fmt.Sprintf("xl/worksheets/sheet%d.xml", n), s.xlsx()})
	}
	parts[0][1] = xmlHead + `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/styles.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"/>` + types.String() + `</Types>`
	return packed(append(parts,
		[2]string{"xl/workbook.xml", xmlHead + `<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets>` + sheets.String() + `</sheets><calcPr fullCalcOnLoad="1"/></workbook>`},
		[2]string{"xl/_rels/workbook.xml.rels", xmlHead + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">` + links.String() + `<Relationship Id="styles" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/styles" Target="styles.xml"/></Relationships>`},
		[2]string{"xl/styles.xml", xmlHead + `<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><fonts count="3"><font><sz val="11"/><name val="Calibri"/></font><font><b/><sz val="14"/><name val="Calibri"/></font><font><sz val="9"/><color rgb="FF5A6B70"/><name val="Calibri"/></font></fonts><fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills><borders count="2"><border/><border><left style="thin"/><right style="thin"/><top style="thin"/><bottom style="thin"/></border></borders><cellStyleXfs count="1"><xf/></cellStyleXfs><cellXfs count="4"><xf/><xf fontId="1" applyFont="1"/><xf borderId="1" applyBorder="1"/><xf fontId="2" applyFont="1"/></cellXfs></styleSheet>`}))
}

func (s *sheet) xlsx() string {
	var out strings.Builder
	out.WriteString(xmlHead + `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><cols><col min="1" max="1" width="28" customWidth="1"/><col min="2" max="2" width="26" customWidth="1"/><col min="3" max="3" width="70" customWidth="1"/><col min="4" max="4" width="10" hidden="1" customWidth="1"/></cols><sheetData>`)
	for i, row := range s.rows {
		fmt.Fprintf(&out, `<row r="%d">`, i+1)
		for j, c := range row {
			at := fmt.Sprintf("%s%d", columnLetter(j), i+1)
			if c.formula != nil {
				fmt.Fprintf(&out, `<c r="%s" s="%d" t="str"><f>%s</f></c>`, at, c.kind, html.EscapeString(c.formula(office)))
				continue
			}
			fmt.Fprintf(&out, `<c r="%s" s="%d" t="inlineStr"><is><t xml:space="preserve">%s</t></is></c>`, at, c.kind, html.EscapeString(c.text))
		}
		out.WriteString(`</row>`)
	}
	out.WriteString(`</sheetData></worksheet>`)
	return out.String()
}

// ods writes the book as OpenDocument (ISO/IEC 26300).
func (b *book) ods() ([]byte, error) {
	const media = "application/vnd.oasis.opendocument.spreadsheet"
	var out strings.Builder
	out.WriteString(xmlHead + `<office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" xmlns:style="urn:oasis:names:tc:opendocument:xmlns:style:1.0" xmlns:fo="urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0" xmlns:of="urn:oasis:names:tc:opendocument:xmlns:of:1.2" office:version="1.2"><office:automatic-styles>`)
	for i, width := range []string{"6cm", "6cm", "15cm", "2cm"} {
		fmt.Fprintf(&out, `<style:style style:name="w%d" style:family="table-column"><style:table-column-properties style:column-width="%s"/></style:style>`, i, width)
	}
	for _, s := range []struct {
		style
		properties string
	}{{headCell, `<style:text-properties fo:font-size="14pt" fo:font-weight="bold"/>`}, {inputCell, `<style:table-cell-properties fo:border="0.5pt solid #5a6b70"/>`}, {noteCell, `<style:text-properties fo:font-size="9pt" fo:color="#5a6b70"/>`}} {
		fmt.Fprintf(&out, `<style:style style:name="c%d" style:family="table-cell">%s</style:style>`, s.style, s.properties)
	}
	out.WriteString(`</office:automatic-styles><office:body><office:spreadsheet>`)
	for _, s := range b.sheets {
		s.ods(&out)
	}
	out.WriteString(`</office:spreadsheet></office:body></office:document-content>`)
	return packed([][2]string{{"mimetype", media}, {"content.xml", out.String()},
		{"META-INF/manifest.xml", xmlHead + `<manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0" manifest:version="1.2"><manifest:file-entry manifest:full-path="/" manifest:media-type="` + media + `"/><manifest:file-entry manifest:full-path="content.xml" manifest:media-type="text/xml"/></manifest:manifest>`}})
}

func (s *sheet) ods(out *strings.Builder) {
	fmt.Fprintf(out, `<table:table table:name="%s">`, html.EscapeString(s.name))
	for i := range 4 {
		hidden := ""
		if i == 3 {
			hidden = ` table:visibility="collapse"`
		}
		fmt.Fprintf(out, `<table:table-column table:style-name="w%d"%s/>`, i, hidden)
	}
	for _, row := range s.rows {
		out.WriteString(`<table:table-row>`)
		if len(row) == 0 {
			out.WriteString(`<table:table-cell/>`)
		}
		for _, c := range row {
			styled := ""
			if c.kind != plainCell {
				styled = fmt.Sprintf(` table:style-name="c%d"`, c.kind)
			}
			if c.formula != nil {
				fmt.Fprintf(out, `<table:table-cell%s table:formula="%s"/>`, styled, html.EscapeString(open.begin+c.formula(open)))
				continue
			}
			fmt.Fprintf(out, `<table:table-cell%s office:value-type="string"><text:p>%s</text:p></table:table-cell>`, styled, html.EscapeString(c.text))
		}
		out.WriteString(`</table:table-row>`)
	}
	out.WriteString(`</table:table>`)
}

// books are the files under clients/ that hold the sheets.
func books(c *contract) (map[string][]byte, error) {
	b, err := newBook(c)
	if err != nil {
		return nil, err
	}
	files := map[string][]byte{}
	for name, write := range map[string]func() ([]byte, error){"sheets/Saltlock.xlsx": b.xlsx, "sheets/Saltlock.ods": b.ods} {
		if files[name], err = write(); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	return files, nil
}
