// Package spell writes numbers, names and bytes into text for the core. It stands in for fmt and encoding/hex, which every
// phone would have to download otherwise: with what they draw in they make a fortieth of the core.
package spell

import (
	"strconv"
	"strings"
)

// Text fills a format: %d, %s, %v and %q stand for the next argument, %% for a percent sign. Arguments are strings, byte
// strings, whole numbers, booleans, errors, or have a String method; %q quotes. Anything else, and an argument too few, is
// written as "?": it is for people who look for a fault, and must not make another.
func Text(format string, args ...any) string {
	var out strings.Builder
	next := 0
	for i := 0; i < len(format); i++ {
		if format[i] != '%' || i+1 == len(format) {
			out.WriteByte(format[i])
			continue
		}
		i++
		if format[i] == '%' {
			out.WriteByte('%')
			continue
		}
		text := "?"
		if next < len(args) {
			text = value(args[next])
		}
		next++
		if format[i] == 'q' {
			text = strconv.Quote(text)
		}
		out.WriteString(text)
	}
	return out.String()
}

func value(arg any) string {
	switch v := arg.(type) {
	case string:
		return v
	case []byte:
		return string(v)
	case error:
		return v.Error()
	case interface{ String() string }:
		return v.String()
	case bool:
		return strconv.FormatBool(v)
	}
	if n, ok := signed(arg); ok {
		return strconv.FormatInt(n, 10)
	}
	if n, ok := unsigned(arg); ok {
		return strconv.FormatUint(n, 10)
	}
	return "?"
}

func signed(arg any) (int64, bool) {
	switch v := arg.(type) {
	case int:
		return int64(v), true
	case int64:
		return v, true
	case int32:
		return int64(v), true
	case int16:
		return int64(v), true
	}
	return 0, false
}

func unsigned(arg any) (uint64, bool) {
	switch v := arg.(type) {
	case uint64:
		return v, true
	case uint32:
		return uint64(v), true
	case uint16:
		return uint64(v), true
	case uint8:
		return uint64(v), true
	case uint:
		return uint64(v), true
	}
	return 0, false
}

const digits = "0123456789abcdef"

// Hex writes bytes with two small hexadecimal digits each.
func Hex(b []byte) string {
	out := make([]byte, 0, 2*len(b))
	for _, x := range b {
		out = append(out, digits[x>>4], digits[x&15])
	}
	return string(out)
}

// Unhex reads what Hex writes, and capital digits too; false for anything else.
func Unhex(text string) ([]byte, bool) {
	if len(text)%2 != 0 {
		return nil, false
	}
	out := make([]byte, len(text)/2)
	for i := range out {
		high, low := digit(text[2*i]), digit(text[2*i+1])
		if high < 0 || low < 0 {
			return nil, false
		}
		out[i] = byte(high<<4 | low)
	}
	return out, true
}

func digit(c byte) int {
	switch {
	case c >= '0' && c <= '9':
		return int(c - '0')
	case c >= 'a' && c <= 'f':
		return int(c-'a') + 10
	case c >= 'A' && c <= 'F':
		return int(c-'A') + 10
	}
	return -1
}
