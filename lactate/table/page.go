package table

import "html"

// Page returns the tables as one HTML page to show or print: it stands alone, with a
// style of its own, and prints on A4 across.
func (ts Tables) Page(title string) string {
	return `<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>` + html.EscapeString(title) + `</title>
<style>
@page { size: A4 landscape; margin: 12mm }
body { font: 12px/1.35 sans-serif; margin: 1em; color: #111; background: #fff }
h1 { font-size: 16px }
table { border-collapse: collapse; margin: 0 0 1em }
caption { text-align: left; font-weight: bold; padding: 0 0 .3em }
th, td { padding: .25em .6em; border-bottom: 1px solid #ccc; vertical-align: top; font-variant-numeric: tabular-nums }
thead { display: table-header-group }
thead th { border-bottom: 1px solid #111 }
tbody th { font-weight: normal }
tr { break-inside: avoid }
p { margin: .2em 0 }
</style>
<h1>` + html.EscapeString(title) + `</h1>
` + ts.HTML() + `</html>
`
}
