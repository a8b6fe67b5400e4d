package lesson_test

import (
	"context"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ionwright/lesson"
	"ionwright/lesson/diag"
)

// The example of long-section is triggered, at its heading: 14 words at 60 a
// minute take 14 s.
func TestLongSection(t *testing.T) {
	i := slices.IndexFunc(diag.Codes(), func(info diag.Info) bool { return info.Code == diag.LongSection })
	text := annotation.ReplaceAllString(diag.Codes()[i].Example, "")
	_, found, err := lesson.Check(context.Background(), fstest.MapFS{"lesson.md": {Data: []byte(text)}})
	if err != nil {
		t.Fatal(err)
	}
	if len(found) != 1 || found[0].Code != diag.LongSection || found[0].Line != 8 || found[0].Col != 4 || found[0].Severity != diag.Advice ||
		!strings.Contains(found[0].Message, "0.2 minutes") || !strings.Contains(found[0].Message, "14 words") {
		t.Errorf("found %v", found)
	}
}
