package tree

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// How people write numbers that TOML does not know.
const (
	commaNumber    = `[+-]?\d+,\d+`                // 1,0625
	fractionNumber = `[+-]?(?:\d+[ \t-]+)?\d+/\d+` // 5/32, 1 5/32, 1-5/32
	withUnit       = `([+-]?\d+\.?\d*)[ \t]*[\pL%°"'″′][\pL%°/]*`
)

// spelt finds a number with a decimal comma, a fraction, another word for true or false, a
// number with its unit or a word without quotes, that a parser stopped at or just behind: what
// it is, and how it is written; false where there is none.
// The number must be all that stands between its neighbours, so that a list of
// values or a date is not taken for one.
func spelt(text string, at Span) (place Span, message, hint string, ok bool) {
	at.Start = min(max(at.Start, 0), len(text))
	from := strings.LastIndexByte(text[:at.Start], '\n') + 1
	to := len(text)
	if n := strings.IndexByte(text[from:], '\n'); n >= 0 {
		to = from + n
	}
	line := text[from:to]
	const before, after = `=[ \t]*`, `[ \t]*(?:[,}\]#\r]|$)`
	for _, kind := range [...]struct{ form, says string }{
		{before + `(` + commaNumber + `)` + after, "%s has a decimal comma"},
		// In a list a comma is one between values, but for what starts with 0.
		{`[\[,][ \t]*([+-]?\d+,0\d+)` + after, "%s has a decimal comma"},
		{`(?:=|[\[,])[ \t]*(` + fractionNumber + `)` + after, "%s is a fraction, not a number that TOML knows"},
	} {
		form := regexp.MustCompile(kind.form)
		for rest := 0; ; {
			m := form.FindStringSubmatchIndex(line[rest:])
			if m == nil {
				break
			}
			place = Span{from + rest + m[2], from + rest + m[3]}
			if at.Start >= place.Start && at.Start <= from+rest+m[1] {
				typed := text[place.Start:place.End]
				if written := Decimal(typed); written != "" {
					if thousands.MatchString(typed) {
						written += "; if the comma parts thousands, write " + strings.Replace(typed, ",", "", 1)
					}
					return place, fmt.Sprintf(kind.says, typed), "write " + written, true
				}
			}
			rest += m[3]
		}
	}
	if m := regexp.MustCompile(before + `(?i:(yes|on|true)|(no|off|false))` +
		after).FindStringSubmatchIndex(line); m != nil && m[4] < 0 {
		return Span{from + m[2], from + m[3]}, fmt.Sprintf("%s is no value that TOML knows", line[m[2]:m[3]]),
			"write true", true
	} else if m != nil {
		return Span{from + m[4], from + m[5]}, fmt.Sprintf("%s is no value that TOML knows", line[m[4]:m[5]]),
			"write false", true
	}
	if m := regexp.MustCompile(`=([ \t]*)(?:[,}\]#\r]|$)`).FindAllStringSubmatchIndex(line, -1); m != nil {
		for _, one := range m {
			if at.Start > from+one[0] && at.Start <= from+one[1] {
				return Span{from + one[0], from + one[0] + 1}, "a key without its value",
					"fill in what stands behind the equals sign, or take the key out", true
			}
		}
	}
	for _, kind := range [...]struct{ form, says, hint string }{
		{before + `(` + withUnit + `)` + after, "%s is a number with its unit",
			"write %s alone: the units of the file go for all of it"},
		{before + `([Mm](\d+))` + after, "%s is no number", "write %s: the diameter"},
		{before + `([+-]?(\.\d+))` + after, "%s is no value that TOML knows", "a digit comes before the point: 0%s"},
		{before + `(((?:\pL[\pL\d_ \t-]*)?[\pL\d_]))` + after, "%s is no value that TOML knows",
			`words go in quotes: write "%s"`},
	} {
		m := regexp.MustCompile(kind.form).FindStringSubmatchIndex(line)
		if m != nil && at.Start >= from+m[2] && at.Start <= from+m[1] && !number(line[m[2]:m[3]]) {
			return Span{from + m[2], from + m[3]}, fmt.Sprintf(kind.says, line[m[2]:m[3]]),
				fmt.Sprintf(kind.hint, line[m[4]:m[5]]), true
		}
	}
	return Span{}, "", "", false
}

// thousands are numbers whose comma may part thousands: three digits follow it, and one to three that do not begin with
// 0 are before it.
var thousands = regexp.MustCompile(`^[+-]?[1-9]\d{0,2},\d{3}$`)

// number says whether a word is a number that TOML knows.
func number(word string) bool {
	_, err := strconv.ParseFloat(word, 64)
	return err == nil && strings.TrimLeft(word, "+-")[0] != '.'
}

// Bare is the number of one that is written with its unit; "" where a text is no such thing.
func Bare(text string) string {
	m := regexp.MustCompile(`^` + withUnit + `$`).FindStringSubmatch(text)
	if m == nil || !number(m[1]) {
		return ""
	}
	return m[1]
}

// FirstComma is the first number with a decimal comma in a list; "" where there
// is none.
func FirstComma(text string) string {
	return regexp.MustCompile(commaNumber).FindString(text)
}

// Decimal is how TOML writes a number with a decimal comma or a fraction; "" where
// a text is neither.
func Decimal(text string) string {
	if regexp.MustCompile(`^` + commaNumber + `$`).MatchString(text) {
		return strings.Replace(text, ",", ".", 1)
	}
	m := regexp.MustCompile(`^([+-]?)(?:(\d+)[ \t-]+)?(\d+)/(\d+)$`).FindStringSubmatch(text)
	if m == nil {
		return ""
	}
	digits := func(s string) float64 {
		v, _ := strconv.ParseFloat("0"+s, 64) // digits alone; none: 0
		return v
	}
	if digits(m[4]) == 0 {
		return ""
	}
	v := digits(m[2]) + digits(m[3])/digits(m[4])
	return m[1] + strconv.FormatFloat(math.Round(v*1e6)/1e6, 'f', -1, 64)
}
