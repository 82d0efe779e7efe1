// Package code draws the three-digit blind codes under which samples are
// served.
//
// A code must say nothing by itself and must not be taken for another one, so:
//
//   - It has three different digits and no leading zero: 100, 111, 121, 007 and
//     000 are out, and every code is as long when read as when spoken.
//   - The two steps between its digits differ: 123, 321, 135, 159 and 963 are
//     out, which look like an order of serving or a stroke over the keys.
//   - No two codes of a flight have the same digits in another order: 417 rules
//     out 471, 147, 174, 714 and 741, which tired tongues and eyes swap.
//
// All codes that the rules leave are equally likely. Randomness is passed in.
package code

import (
	"errors"
	"io"
	"strconv"
)

// A Code is a blind code, 102 to 987.
type Code uint16

// ErrNoneLeft says that the rules leave a flight no further code.
var ErrNoneLeft = errors.New("no blind code is left for this flight")

// A FormatError says that something is no blind code.
type FormatError struct {
	Text string
}

func (e *FormatError) Error() string {
	return strconv.Quote(e.Text) + " is no blind code: three different digits, not from zero, not in equal steps"
}

// Digits returns the code's digits, first to last.
func (c Code) Digits() [3]int { return [3]int{int(c) / 100, int(c) / 10 % 10, int(c) % 10} }

// String returns the code as it is written.
func (c Code) String() string { return strconv.Itoa(int(c)) }

// Spoken returns the code as it is read aloud, digit by digit: "4 1 7". A screen
// gives it to screen readers, which would say a number else.
func (c Code) Spoken() string {
	d := c.Digits()
	return strconv.Itoa(d[0]) + " " + strconv.Itoa(d[1]) + " " + strconv.Itoa(d[2])
}

// Valid reports whether the code keeps the rules for a single code.
func (c Code) Valid() bool {
	d := c.Digits()
	return c >= 100 && c <= 999 && d[0] != d[1] && d[1] != d[2] && d[0] != d[2] && d[1]-d[0] != d[2]-d[1]
}

// Confusable reports whether two codes have the same digits in some order.
func (c Code) Confusable(other Code) bool { return c.set() == other.set() }

// set has a bit for every digit.
func (c Code) set() (bits uint16) {
	for _, digit := range c.Digits() {
		bits |= 1 << digit
	}
	return bits
}

// Parse reads a code as typed; spaces and hyphens between digits are ignored.
func Parse(text string) (Code, error) {
	n, digits := 0, 0
	for _, r := range text {
		switch {
		case r >= '0' && r <= '9' && digits < 3:
			n, digits = n*10+int(r-'0'), digits+1
		case r == ' ' || r == '-':
		default:
			return 0, &FormatError{text}
		}
	}
	if digits != 3 || !Code(n).Valid() {
		return 0, &FormatError{text}
	}
	return Code(n), nil
}

// Draw draws one more code for a flight that has used some already. It returns
// ErrNoneLeft when there is none, and the error of the randomness.
func Draw(random io.Reader, used []Code) (Code, error) {
	left := free(used)
	if len(left) == 0 {
		return 0, ErrNoneLeft
	}
	i, err := below(random, len(left))
	if err != nil {
		return 0, err
	}
	return left[i], nil
}

// Deal draws n codes for a flight that has used some already.
func Deal(random io.Reader, n int, used []Code) ([]Code, error) {
	taken := append([]Code(nil), used...)
	for range n {
		c, err := Draw(random, taken)
		if err != nil {
			return nil, err
		}
		taken = append(taken, c)
	}
	return taken[len(used):], nil
}

// Shuffle returns the codes in a random order, every order equally likely: a
// helper pours by it, so that an organiser who knows the set does not know
// which is which.
func Shuffle(random io.Reader, codes []Code) ([]Code, error) {
	out := append([]Code(nil), codes...)
	for i := len(out) - 1; i > 0; i-- {
		j, err := below(random, i+1)
		if err != nil {
			return nil, err
		}
		out[i], out[j] = out[j], out[i]
	}
	return out, nil
}

// free lists the codes that the rules leave, in order.
func free(used []Code) (out []Code) {
	taken := map[uint16]bool{}
	for _, c := range used {
		taken[c.set()] = true
	}
	for c := Code(100); c <= 999; c++ {
		if c.Valid() && !taken[c.set()] {
			out = append(out, c)
		}
	}
	return out
}

// below draws a number from 0 to n-1; n is at most 65,536. Draws that would make
// small numbers likelier are thrown away.
func below(random io.Reader, n int) (int, error) {
	most := 1 << 16 / n * n
	for {
		var b [2]byte
		if _, err := io.ReadFull(random, b[:]); err != nil {
			return 0, err
		}
		if v := int(b[0])<<8 | int(b[1]); v < most {
			return v % n, nil
		}
	}
}
