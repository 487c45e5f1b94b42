// Package static holds the style sheets, scripts and drawings that pages load,
// and serves them under names that change with their content.
package static

import "embed"

//go:embed css/*.css js/*.js *.svg *.webmanifest
var files embed.FS
