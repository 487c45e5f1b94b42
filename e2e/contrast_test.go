package e2e

import (
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// secondLook computes the contrast of texts that axe-core leaves open: those of drawings, over gradients, under something that floats,
// and those of one sign. Each must have 4.5 against every colour that may be behind it (WCAG 2.2, 1.4.3; relative luminance as its
// glossary defines it), whatever its size.
const secondLook = `((texts) => {
  const pen = document.createElement("canvas").getContext("2d", { willReadFrequently: true });
  const rgba = colour => {
    pen.clearRect(0, 0, 1, 1);
    pen.fillStyle = colour;
    pen.fillRect(0, 0, 1, 1);
    const [r, g, b, a] = pen.getImageData(0, 0, 1, 1).data;
    return [r, g, b, a / 255];
  };
  const linear = v => (v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
  const luminance = ([r, g, b]) => 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
  const contrast = (a, b) => { const [x, y] = [luminance(a), luminance(b)]; return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05); };
  const over = (top, below) => top[3] === 1 ? top : [0, 1, 2].map(i => top[i] * top[3] + below[i] * (1 - top[3])).concat(1);
  const onto = (paints, below) => paints.length ? paints.flatMap(p => below.map(b => over(rgba(p), b))) : below;
  const shapes = "rect, path, circle, ellipse, polygon";
  const behind = ([e, ...rest]) => {
    if (!e) return [[255, 255, 255, 1]];
    const s = getComputedStyle(e);
    if (e instanceof SVGElement && e.localName !== "svg") return e.matches(shapes) && s.fill !== "none" ? onto([s.fill], behind(rest)) : behind(rest);
    const stops = s.backgroundImage.match(/(rgba?|color|oklch|oklab)\([^)]*\)/g) || [];
    return onto(stops, onto([s.backgroundColor], behind(rest)));
  };
  const least = e => {
    e.scrollIntoView({ block: "center" });
    const words = document.createRange();
    words.selectNodeContents(e);
    const s = getComputedStyle(e), ink = rgba(e instanceof SVGElement ? s.fill : s.color);
    return Math.min(...[...words.getClientRects()].slice(0, 3).map(r => {
      const stack = document.elementsFromPoint(r.x + r.width / 2, r.y + r.height / 2), at = stack.indexOf(e);
      return Math.min(...behind(stack.slice(Math.max(at, 0))).map(b => contrast(over(ink, b), b)));
    }));
  };
  const x = scrollX, y = scrollY;
  const pale = texts.map(e => [e, least(e)]).filter(([, c]) => !(c >= 4.5));
  scrollTo(x, y);
  return pale.slice(0, 5).map(([e, c]) => "color-contrast by a second look: " + c.toFixed(2) + " of 4.5 for " + e.textContent.trim().slice(0, 40));
})`

// The grey #767676 on white is the palest that reaches 4.5 (it has 4.54), and #777777 the first that does not (4.48): well-known values
// that follow from the formula of WCAG; black on white has 21.
const greys = `<!DOCTYPE html><html lang="en"><title>greys</title><body>
<svg width="400" height="60"><rect width="400" height="60" fill="#fff"></rect><text x="10" y="20" fill="#767676">drawn dark enough</text><text x="10" y="50" fill="#777777">drawn too pale</text></svg>
<p style="color:#767676;background:linear-gradient(#fff,#fff)">dark enough on white</p><p style="color:#767676;background:linear-gradient(#fff,#eee)">too pale on grey</p>
<p style="color:#000">black</p><p style="color:rgba(0,0,0,0.3)">too pale by half</p>`

func TestSecondLook(t *testing.T) {
	browser := openBrowser(t)
	site := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { io.WriteString(w, greys) }))
	defer site.Close()
	b := newTab(t, browser, site.URL, "")
	b.lenient = true // there is no icon
	b.open("/")
	pale := strings.Join(js[[]string](b, secondLook+`([...document.querySelectorAll("text, p")])`), "\n")
	for _, words := range []string{"4.48 of 4.5 for drawn too pale", "for too pale on grey", "for too pale by half"} {
		if !strings.Contains(pale, words) {
			t.Errorf("not noticed: %s", words)
		}
	}
	if strings.Count(pale, " of 4.5 ") != 3 {
		t.Errorf("wrongly noticed: %s", pale)
	}
}
