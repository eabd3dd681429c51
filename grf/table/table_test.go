package table

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/units"
)

// text joins the lines of a table.
func text(lines ...string) []byte { return []byte(strings.Join(lines, "\n") + "\n") }

// show writes a table on one line: start, rate, then name = values in SI.
func show(t *Table) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%g %g", t.Start, t.Rate)
	for _, c := range t.Columns {
		fmt.Fprintf(&b, " | %s", c.Name)
		for _, v := range c.Values {
			fmt.Fprintf(&b, " %.10g", v)
		}
	}
	return b.String()
}

func codes(ws []grf.Warning) string {
	var s []string
	for _, w := range ws {
		s = append(s, w.Code)
	}
	return strings.Join(s, " ")
}

func TestDecode(t *testing.T) {
	const want = "0 1000 | Fx 1 2 3 | Fz -10 NaN 30.5"
	tests := []struct {
		name string
		data []byte
		opt  Options
		want string // "" for the usual one
		warn string // codes
	}{
		{name: "commas", data: text("time[s],Fx[N],Fz[N]", "0,1,-10", "0.001,2,", "0.002,3,30.5")},
		{name: "semicolons", data: text("time[s];Fx[N];Fz[N]", "0;1;-10", "0.001;2;", "0.002;3;30.5")},
		{name: "tabs", data: text("time[s]\tFx[N]\tFz[N]", "0\t1\t-10", "0.001\t2\t", "0.002\t3\t30.5")},
		{name: "decimal commas with semicolons", data: text("time[s];Fx[N];Fz[N]", "0;1;-10", "0,001;2;", "0,002;3;30,5"), warn: "decimal-comma"},
		{name: "decimal commas with tabs", data: text("time[s]\tFx[N]\tFz[N]", "0\t1,0\t-10", "0,001\t2\t", "0,002\t3\t30,5"), warn: "decimal-comma"},
		{name: "decimal commas in quotes", data: text("time[s],Fx[N],Fz[N]", `"0",1,-10`, `"0,001",2,`, `"0,002",3,"30,5"`), warn: "decimal-comma"},
		{name: "declared decimal comma", data: text("time[s]\tFx[N]\tFz[N]", "0\t1,0\t-10", "0,001\t2\t", "0,002\t3\t30,5"), opt: Options{Decimal: ','}, warn: "decimal-comma"},
		{name: "declared separator", data: text("time[s],Fx[N],Fz[N];", "0,1,-10", "0.001,2,", "0.002,3,30.5"),
			opt: Options{Separator: ',', Ignore: []string{"Fz[N];"}}, want: "0 1000 | Fx 1 2 3"},
		{name: "spaces around cells", data: text(" time [s] , Fx [N] , Fz [N] ", " 0 , 1 , -10 ", "0.001, 2 , ", "0.002,3,  30.5")},
		{name: "quoted header", data: text(`"time [s]","Fx [N]","Fz [N]"`, "0,1,-10", "0.001,2,", "0.002,3,30.5")},
		{name: "round brackets", data: text("time (s),Fx (N),Fz(N)", "0,1,-10", "0.001,2,NaN", "0.002,3,30.5")},
		{name: "suffixes", data: text("time_s,Fx_N,Fz_N", "0,1,-10", "0.001,2,nan", "0.002,3,30.5")},
		{name: "slashes", data: text("time / s,Fx / N,Fz/kN", "0,1,-0.01", "0.001,2,", "0.002,3,0.0305")},
		{name: "row of units", data: text("time,Fx,Fz", "s,N,kN", "0,1,-0.01", "0.001,2,", "0.002,3,0.0305")},
		{name: "row of units in brackets", data: text("time,Fx,Fz", "[s],[N],[kN]", "0,1,-0.01", "0.001,2,", "0.002,3,0.0305")},
		{name: "byte-order mark and CRLF", data: []byte("\xef\xbb\xbftime[s],Fx[N],Fz[N]\r\n0,1,-10\r\n0.001,2,\r\n0.002,3,30.5\r\n")},
		{name: "carriage returns", data: []byte("time[s],Fx[N],Fz[N]\r0,1,-10\r0.001,2,\r0.002,3,30.5\r")},
		{name: "no end of line", data: []byte("time[s],Fx[N],Fz[N]\n0,1,-10\n0.001,2,\n0.002,3,30.5")},
		{name: "exponents", data: text("time[s],Fx[N],Fz[N]", "0,1e0,-1E+1", "1e-3,20e-1,", "2e-3,.3e1,+3.05e+01")},
		{name: "units", data: text("time[ms],Fx[kN],Fz[N]", "0,0.001,-10", "1,0.002,", "2,0.003,30.5")},
		{name: "any order", data: text("Fx[N],time[s],Fz[N]", "1,0,-10", "2,0.001,", "3,0.002,30.5")},
		{name: "comments", data: text("# made by hand", "time[s],Fx[N],Fz[N]", "# from here on numbers", "", "0,1,-10", "% a remark, 1, 2", "0.001,2,", "", "0.002,3,30.5", "", "")},
		{name: "names in a comment", data: text("# made by a script", "# time[s],Fx[N],Fz[N]", "0,1,-10", "0.001,2,", "0.002,3,30.5")},
		{name: "preamble", data: text("A capture of the left plate", "subject: none, really", "rate = 1000 Hz", "time[s],Fx[N],Fz[N]", "0,1,-10", "0.001,2,", "0.002,3,30.5")},
		{name: "preamble with trailing separators", data: text(`"# rate: 1000 Hz",,`, "Fx[N],Fz[N],", "1,-10,", "2,,", "3,30.5,")},
		{name: "rate in the preamble", data: text("Sampling rate: 1 kHz", "Fx[N],Fz[N]", "1,-10", "2,", "3,30.5")},
		{name: "rate in the options", data: text("Fx[N],Fz[N]", "1,-10", "2,", "3,30.5"), opt: Options{Rate: 1000}},
		{name: "start", data: text("rate: 1000 Hz", "start: 500 ms", "Fx[N],Fz[N]", "1,-10", "2,", "3,30.5"), want: "0.5 1000 | Fx 1 2 3 | Fz -10 NaN 30.5"},
		{name: "declared units", data: text("time,Fx,Fz", "0,1,-10", "0.001,2,", "0.002,3,30.5"), opt: Options{Units: map[string]string{"TIME": "s", "fx": "N", "Fz": "N"}}},
		{name: "ignored columns", data: text("trial,time[s],Fx[N],note (mine),Fz[N]", `one,0,1,"a ""b"", c",-10`, "one,0.001,2,,", "one,0.002,3,x,30.5"), opt: Options{Ignore: []string{"Trial", "note (mine)"}}},
		{name: "empty cells behind the last column", data: text("time[s],Fx[N],Fz[N],,", "0,1,-10,,", "0.001,2,,,", "0.002,3,30.5")},
		{name: "empty rows at the end", data: text("time[s],Fx[N],Fz[N]", "0,1,-10", "0.001,2,", "0.002,3,30.5", ",,", " , ,"), warn: "empty-rows"},
		{name: "several columns of time", data: text("delay[s],t[s],Fx[N]", "1,0,1", "1,0.5,2"), want: "0 2 | delay 1 1 | Fx 1 2"},
		{name: "the time column by name", data: text("stamp[s],t[s],Fx[N]", "0,1,1", "0.25,3,2"), opt: Options{Time: "Stamp"}, want: "0 4 | t 1 3 | Fx 1 2"},
		{name: "one column", data: text("rate: 10 Hz", "GRF[N]", "1", "", "3", ""), want: "0 10 | GRF 1 NaN 3"},
		{name: "pure numbers, shares and volts", data: text("rate: 10 Hz", "a[1],b[-],share [%],out (mV)", "2,3,50,250"), want: "0 10 | a 2 | b 3 | share 0.5 | out 0.25"},
		{name: "a unit of two symbols", data: text("rate: 10 Hz", "Mx (N·m),My[Nm],Mz [N.mm],COPx[cm]", "2,3,4000,50"), want: "0 10 | Mx 2 | My 3 | Mz 4 | COPx 0.5"},
		{name: "Latin-1", data: text("rate: 10 Hz", "Mx [N\xb7m]", "2", "3"), want: "0 10 | Mx 2 3"},
		{name: "names with brackets", data: text("rate: 10 Hz", "Fx (left) [N],Fx (right) [N]", "2,3"), want: "0 10 | Fx (left) 2 | Fx (right) 3"},
		{name: "names with colons", data: text("s1:Fx[N],s1:Fy[N],t[s]", "2,3,0", "2,3,1"), want: "0 1 | s1:Fx 2 2 | s1:Fy 3 3"},
		{name: "a long number", data: text("rate: 10 Hz", "x[m]", "0.12345678901234567890123", "1e-300"), want: "0 10 | x 0.123456789 1e-300"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := Decode(tt.data, tt.opt)
			if err != nil {
				t.Fatal(err)
			}
			if tt.want == "" {
				tt.want = want
			}
			if s := show(got); s != tt.want {
				t.Errorf("got  %s\nwant %s", s, tt.want)
			}
			if s := codes(got.Warnings); s != tt.warn {
				t.Errorf("warnings %q, want %q", s, tt.warn)
			}
		})
	}
}

func TestDecodeErrors(t *testing.T) {
	tests := []struct {
		name   string
		data   []byte
		opt    Options
		want   error
		line   int
		column int
		says   string
	}{
		{"empty file", nil, Options{}, grf.ErrNoData, 0, 0, "empty"},
		{"no rows", text("t[s],Fx[N]"), Options{}, grf.ErrNoData, 1, 0, "no row of numbers"},
		{"no header", text("1,2", "3,4"), Options{}, ErrHeader, 1, 0, "Fx[N]"},
		{"binary", []byte("t[s],Fx[N]\n1,2\n\x00\x01"), Options{}, ErrEncoding, 3, 0, "zero byte"},
		{"UTF-16", []byte("\xff\xfet\x00[\x00"), Options{}, ErrEncoding, 0, 0, "UTF-8"},
		{"no unit", text("t[s],Fx", "0,1"), Options{}, ErrUnit, 1, 2, "Fx[N]"},
		{"empty brackets", text("t[s],Fx[]", "0,1"), Options{}, ErrUnit, 1, 2, "no unit"},
		{"unknown unit", text("t[s],Fx[Nn]", "0,1"), Options{}, ErrUnit, 1, 2, `"Nn"`},
		{"two units", text("t[s],Fx[kN]", "0,1"), Options{Units: map[string]string{"Fx": "N"}}, ErrUnit, 1, 2, "two units"},
		{"unknown declared unit", text("t[s],Fx", "0,1"), Options{Units: map[string]string{"Fx": "newtons"}}, ErrUnit, 1, 2, `"newtons"`},
		{"unit for nobody", text("t[s],Fx[N]", "0,1"), Options{Units: map[string]string{"Fy": "N"}}, ErrHeader, 1, 0, "t, Fx"},
		{"ignore nobody", text("t[s],Fx[N]", "0,1"), Options{Ignore: []string{"Fy"}}, ErrHeader, 1, 0, `"Fy"`},
		{"no name", text("t[s],[N]", "0,1"), Options{}, ErrHeader, 1, 2, "no name"},
		{"same names", text("t[s],Fx[N],fx[kN]", "0,1,1"), Options{}, ErrDuplicate, 1, 3, "column 2"},
		{"spaces between columns", text("t[s] Fx[N]", "0 1", "1 2"), Options{}, grf.ErrNoData, 2 + 1, 0, "no row"},
		{"spaces between numbers", text("t[s],Fx[N]", "0,1", "1 2"), Options{}, ErrNumber, 3, 1, "semicolons or tabs"},
		{"too few cells", text("t[s],Fx[N]", "0,1", "1", "2,3"), Options{}, ErrRow, 3, 0, "1 cells"},
		{"cut off", text("t[s],Fx[N]", "0,1", "1"), Options{}, ErrRow, 3, 0, "cut off"},
		{"too many cells", text("t[s];Fx[N]", "0;1", "1;2;3"), Options{}, ErrRow, 3, 0, "3 cells"},
		{"decimal commas and commas", text("t[s],Fx[N]", "0,1", "0,001,1,5"), Options{}, ErrRow, 3, 0, "decimal marks"},
		{"too many cells in quotes", text("t[s],Fx[N]", `"0","1"`, `"1","2","3"`), Options{}, ErrRow, 3, 0, "3 cells"},
		{"too few cells in quotes", text("t[s],Fx[N]", `"0","1"`, `"1"`), Options{}, ErrRow, 3, 0, "1 cells"},
		{"open quote", text("t[s],Fx[N]", `0,1`, `1,"2`), Options{}, ErrRow, 3, 0, "quotation mark"},
		{"text behind a quote", text("t[s],Fx[N]", `0,1`, `"1"x,2`), Options{}, ErrRow, 3, 0, "quotation mark"},
		{"open quote in the header", text(`t[s],"Fx[N]`, "0,1"), Options{}, ErrHeader, 1, 0, "quotation mark"},
		{"a word", text("t[s],Fx[N]", "0,1", "1,one"), Options{}, ErrNumber, 3, 2, `"one"`},
		{"infinity", text("t[s],Fx[N]", "0,1", "1,Inf"), Options{}, ErrNumber, 3, 2, `"Inf"`},
		{"hexadecimal", text("t[s],Fx[N]", "0,1", "1,0x1p4"), Options{}, ErrNumber, 3, 2, "0x1p4"},
		{"too large", text("t[s],Fx[kN]", "0,1", "1,1e307"), Options{}, ErrNumber, 3, 2, "too large"},
		{"larger than float64", text("t[s],Fx[N]", "0,1", "1,1e999"), Options{}, ErrNumber, 3, 2, "1e999"},
		{"grouped thousands", text("t[s];Fx[N]", "0;1", "1;1.234,5"), Options{}, ErrNumber, 3, 2, "grouped"},
		{"both decimal marks", text("t[s];Fx[N]", "0;1,5", "1;2.5"), Options{}, ErrNumber, 3, 2, "since line 2"},
		{"not the declared mark", text("t[s];Fx[N]", "0;1,5"), Options{Decimal: '.'}, ErrNumber, 2, 2, "declared"},
		{"a number with a unit", text("t[s],Fx[N]", "0,1", "1,2 N"), Options{}, ErrNumber, 3, 2, `"2 N"`},
		{"no time", text("Fx[N]", "1"), Options{}, ErrRate, 1, 0, "rate: 1000 Hz"},
		{"rate without unit", text("rate: 1000", "Fx[N]", "1"), Options{}, ErrRate, 0, 0, "Hz"},
		{"rate of zero", text("rate: 0 Hz", "Fx[N]", "1"), Options{}, ErrRate, 0, 0, "no rate"},
		{"start without unit", text("rate: 10 Hz", "start: 1", "Fx[N]", "1"), Options{}, ErrTimeOrder, 0, 0, "start"},
		{"one row", text("t[s],Fx[N]", "0,1"), Options{}, ErrRate, 2, 1, "one row"},
		{"two time columns", text("a[s],b[s],Fx[N]", "0,1,1"), Options{}, ErrHeader, 1, 2, "column 1"},
		{"not a time column", text("a[N],t[s],Fx[N]", "0,1,1"), Options{Time: "a"}, ErrUnit, 1, 1, "not a unit of time"},
		{"no such time column", text("t[s],Fx[N]", "0,1"), Options{Time: "u"}, ErrHeader, 1, 0, `"u"`},
		{"rate against time", text("rate: 1000 Hz", "t[s],Fx[N]", "0,1", "0.002,1", "0.004,1"), Options{}, ErrRate, 3, 1, "500 Hz"},
		{"missing time", text("t[s],Fx[N]", "0,1", ",1", "2,1"), Options{}, ErrTimeOrder, 3, 1, "without a time"},
		{"repeated time", text("t[s],Fx[N]", "0,1", "1,1", "1,1"), Options{}, ErrTimeOrder, 4, 1, "row before"},
		{"time goes back", text("t[s],Fx[N]", "0,1", "2,1", "1,1"), Options{}, ErrTimeOrder, 4, 1, "back"},
		{"too many columns", text("a[N],b[N],c[N]", "1,2,3"), Options{MaxColumns: 2, Rate: 1}, ErrLimit, 1, 0, "at most 2"},
		{"too many rows", text("a[N]", "1", "2", "3"), Options{MaxRows: 2, Rate: 1}, ErrLimit, 4, 0, "more than 2"},
		{"a long name", text(strings.Repeat("x", 300)+"[N]", "1"), Options{Rate: 1}, ErrLimit, 1, 1, "300 bytes"},
		{"control characters", text("a\x1b[N]", "1"), Options{Rate: 1}, ErrHeader, 1, 1, "control"},
		{"a long preamble", text(strings.Repeat("words\n", 1001)+"Fx[N]", "1"), Options{Rate: 1}, ErrLimit, 1001, 0, "1000 lines"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := Decode(tt.data, tt.opt)
			if got != nil {
				t.Error("a table beside an error")
			}
			if !errors.Is(err, tt.want) {
				t.Fatalf("got error %v, want %v", err, tt.want)
			}
			var e *Error
			if !errors.As(err, &e) {
				t.Fatalf("%T is not *Error", err)
			}
			if e.Line != tt.line || e.Column != tt.column || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("got line %d, column %d, %q; want line %d, column %d and %q", e.Line, e.Column, err, tt.line, tt.column, tt.says)
			}
		})
	}
}

func TestOptionsErrors(t *testing.T) {
	for _, opt := range []Options{
		{Separator: ' '}, {Decimal: '\''}, {Decimal: ',', Separator: ','}, {Clock: 7},
		{Rate: -1}, {Rate: math.Inf(1)}, {Rate: math.NaN()}, {Jitter: -1}, {Jitter: 0.7}, {Jitter: math.NaN()},
	} {
		if tab, err := Decode(text("t[s],Fx[N]", "0,1", "1,2"), opt); err == nil || tab != nil {
			t.Errorf("%+v: no error", opt)
		}
	}
}

func TestColumn(t *testing.T) {
	tab, err := Decode(text("comment: x = y", "# more: z", "t[s],Fx[kN]", "0,1", "1,2"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	c, ok := tab.Column("FX")
	if !ok || c.Name != "Fx" || c.Unit.Symbol != "kN" || c.Unit.Quantity != units.QuantityForce || c.Values[1] != 2000 {
		t.Errorf("got %+v, %v", c, ok)
	}
	if _, ok := tab.Column("Fy"); ok {
		t.Error("a column that is not there")
	}
	if got := fmt.Sprint(tab.Names(), tab.Rows, tab.Time, tab.Meta); got != "[Fx] 2 [0 1] map[comment:x = y more:z]" {
		t.Error(got)
	}
	if tab.Separator != ',' || tab.Decimal != 0 {
		t.Errorf("separator %q, decimal %q", tab.Separator, tab.Decimal)
	}
}

// A file of empty lines or of a thousand columns must not claim memory for
// numbers that it can not hold.
func TestDecodeMemory(t *testing.T) {
	wide := strings.Repeat("a", 1)
	var names []string
	for i := range 1000 {
		names = append(names, fmt.Sprintf("%s%d[N]", wide, i))
	}
	data := []byte(strings.Join(names, ",") + "\n" + strings.Repeat("1,", 999) + "1\n" + strings.Repeat("\n", 1<<20))
	result := testing.Benchmark(func(b *testing.B) {
		b.ReportAllocs()
		for range b.N {
			if _, err := Decode(data, Options{Rate: 1}); err != nil {
				b.Fatal(err)
			}
		}
	})
	if got, most := result.AllocedBytesPerOp(), int64(16*len(data)); got > most {
		t.Errorf("%d bytes for a file of %d", got, len(data))
	}
}
