package printcheck

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"example.com/snugturn/service/sheet"
)

var update = flag.Bool("update", false, "write the picture of a card that the README shows")

// What the picture is held to: common practice, no source. Another build of the browser draws edges a little
// otherwise; a word that changed moves far more.
const (
	cardFile  = "../../examples/servicesheet/testdata/card.png"
	cardWide  = 760 // px: a page of 185 mm and its margins
	mostBytes = 150_000
	tile      = 16   // px, about a letter or two: a changed word is lost in the mean of a whole page
	mostApart = 20.0 // of 255, the mean of a tile
)

// The picture in the README is the second card of the demonstration as it is today.
func TestCardPicture(t *testing.T) {
	dir := t.TempDir()
	chromium, err := startBrowser(filepath.Join(dir, "profile"))
	if err != nil {
		t.Fatal(err)
	}
	defer chromium.stop()
	words, err := sheet.In("en")
	if err != nil {
		t.Fatal(err)
	}
	html, err := words.Sheet(read(t, "../../examples/servicesheet/demo.json", agreed(t)), false).HTML()
	in := filepath.Join(dir, "sheet.html")
	if err := errors.Join(err, os.WriteFile(in, html, 0o600), chromium.open("file://"+in)); err != nil {
		t.Fatal(err)
	}
	got := chromium.picture(t, ".card-page ~ .card-page", cardWide)
	if len(got) > mostBytes {
		t.Errorf("%d bytes; want at most %d", len(got), mostBytes)
	}
	if *update {
		if err := os.WriteFile(cardFile, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile(cardFile)
	if err != nil {
		t.Fatal(err)
	}
	a, b := decode(t, kept), decode(t, got)
	if a.Bounds() != b.Bounds() {
		t.Fatalf("the picture is %v and the card %v; make it again with -update", a.Bounds(), b.Bounds())
	}
	if d := apart(a, b); d > mostApart {
		t.Errorf("the picture and the card differ by %.1f in a tile; make it again with -update", d)
	}
}

func decode(t *testing.T, file []byte) image.Image {
	t.Helper()
	m, err := png.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// apart is the mean difference of two pictures of one size, of 255, in the tile where they differ most.
func apart(a, b image.Image) float64 {
	sums := map[image.Point]int{}
	for y := a.Bounds().Min.Y; y < a.Bounds().Max.Y; y++ {
		for x := a.Bounds().Min.X; x < a.Bounds().Max.X; x++ {
			d := int(color.GrayModel.Convert(a.At(x, y)).(color.Gray).Y) - int(color.GrayModel.Convert(b.At(x, y)).(color.Gray).Y)
			sums[image.Pt(x/tile, y/tile)] += max(d, -d)
		}
	}
	worst := 0
	for _, sum := range sums {
		worst = max(worst, sum)
	}
	return float64(worst) / (tile * tile)
}

// picture is the first element that a selector finds, as a PNG with a margin, laid out for print so many pixels wide.
func (b *browser) picture(t *testing.T, selector string, wide int) []byte {
	t.Helper()
	quoted, err := json.Marshal(selector)
	if err != nil {
		t.Fatal(err)
	}
	var found struct {
		Result struct {
			Value struct {
				X      float64 `json:"x"`
				Y      float64 `json:"y"`
				Width  float64 `json:"width"`
				Height float64 `json:"height"`
			} `json:"value"`
		} `json:"result"`
	}
	var shot struct {
		Data []byte `json:"data"` // Base64
	}
	err = b.call("Emulation.setEmulatedMedia", map[string]any{"media": "print"}, nil)
	if err == nil {
		err = b.call("Emulation.setDeviceMetricsOverride", map[string]any{"width": wide, "height": 1000, "deviceScaleFactor": 1, "mobile": false}, nil)
	}
	if err == nil {
		err = b.call("Runtime.evaluate", map[string]any{"returnByValue": true, "expression": `document.body.style.padding = "12px"; (e => {
			for (const other of e.parentElement.children) if (other !== e) other.style.display = "none"; // its neighbours' edges
			const r = e.getBoundingClientRect();
			return {x: Math.floor(r.x + scrollX) - 12, y: Math.floor(r.y + scrollY) - 12, width: Math.ceil(r.width) + 24, height: Math.ceil(r.height) + 24};
		})(document.querySelector(` + string(quoted) + `))`}, &found)
	}
	if err == nil {
		box := found.Result.Value
		err = b.call("Page.captureScreenshot", map[string]any{"format": "png", "captureBeyondViewport": true,
			"clip": map[string]any{"x": box.X, "y": box.Y, "width": box.Width, "height": box.Height, "scale": 1}}, &shot)
	}
	if err != nil {
		t.Fatal(err)
	}
	return shot.Data
}
