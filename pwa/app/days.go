package app

import (
	"math"
	"strconv"
)

// dayNumber counts the days of a calendar day, written 2026-11-03, since the first of January 1970; no time zone anywhere.
func dayNumber(text string) (int, bool) {
	if len(text) != 10 || text[4] != '-' || text[7] != '-' {
		return 0, false
	}
	year, badYear := strconv.Atoi(text[:4])
	month, badMonth := strconv.Atoi(text[5:7])
	day, badDay := strconv.Atoi(text[8:])
	if badYear != nil || badMonth != nil || badDay != nil || year < 1900 || month < 1 || month > 12 || day < 1 || day > monthLength(year, month) {
		return 0, false
	}
	// Years are counted from March, so that a leap day is the last.
	y, m := year, month-3
	if m < 0 {
		y, m = y-1, m+12
	}
	return y*365 + y/4 - y/100 + y/400 + (153*m+2)/5 + day - 1 - 719468, true
}

func monthLength(year, month int) int {
	switch month {
	case 4, 6, 9, 11:
		return 30
	case 2:
		if year%4 == 0 && (year%100 != 0 || year%400 == 0) {
			return 29
		}
		return 28
	}
	return 31
}

// rectangular is the standard uncertainty of an instrument that is good to so much (JCGM 100:2008, 4.3.7).
func rectangular(precision float64) float64 { return precision / math.Sqrt(3) }
