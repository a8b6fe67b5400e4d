package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
)

// maxLine is the longest line of a stream that is read, in bytes.
const maxLine = 4 << 20

// stream reads one JSON object a line, hands each to one and writes its
// answer as one line, in the same order, with the object's id. A line that
// fails gives {"id":...,"error":"..."} and the stream goes on.
func stream[In any](ctx context.Context, c *call, one func(ctx context.Context, in In) (any, error)) error {
	in := bufio.NewReaderSize(c.in, 64<<10)
	out := bufio.NewWriter(c.out)
	defer out.Flush()
	for ctx.Err() == nil {
		line, tooLong, err := readLine(in)
		if err != nil && !errors.Is(err, io.EOF) {
			return fmt.Errorf("reading the stream: %w", err)
		}
		if len(bytes.TrimSpace(line)) > 0 || tooLong {
			if err := answerLine(ctx, out, line, tooLong, one); err != nil {
				return fmt.Errorf("writing the stream: %w", err)
			}
			if in.Buffered() == 0 { // whoever waits for an answer gets it
				if err := out.Flush(); err != nil {
					return fmt.Errorf("writing the stream: %w", err)
				}
			}
		}
		if err != nil {
			return nil
		}
	}
	return ctx.Err()
}

// readLine reads up to the next line end; of a line longer than maxLine it
// drops the rest.
func readLine(in *bufio.Reader) (line []byte, tooLong bool, err error) {
	for {
		part, err := in.ReadSlice('\n')
		if len(line)+len(part) <= maxLine {
			line = append(line, part...)
		} else {
			tooLong = true
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			return line, tooLong, err
		}
	}
}

// answerLine writes one line of the stream.
func answerLine[In any](ctx context.Context, out io.Writer, line []byte, tooLong bool, one func(ctx context.Context, in In) (any, error)) error {
	var named struct {
		ID json.RawMessage `json:"id"`
	}
	var in In
	var result any
	var err error
	switch {
	case tooLong:
		err = fmt.Errorf("the line has more than %d bytes", maxLine)
	default:
		if err = errors.Join(json.Unmarshal(line, &named), json.Unmarshal(line, &in)); err != nil {
			err = fmt.Errorf("the line isn't the JSON object that is expected: %s", firstLine(err.Error()))
			break
		}
		result, err = one(ctx, in)
	}
	if err != nil {
		result = map[string]string{"error": err.Error()}
	}
	text, err := marshalLine(result)
	if err != nil {
		return err
	}
	if named.ID == nil {
		named.ID = json.RawMessage("null")
	}
	// The id goes first, as it came.
	_, err = fmt.Fprintf(out, "{\"id\":%s,%s\n", named.ID, text[1:])
	return err
}

func firstLine(s string) string {
	line, _, _ := strings.Cut(s, "\n")
	return line
}

func marshalLine(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return nil, err
	}
	return bytes.TrimSpace(b.Bytes()), nil
}
