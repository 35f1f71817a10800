package quantity

import "testing"

// A load of 100,000 rows reads several quantities a row.
func BenchmarkParse(b *testing.B) {
	for _, text := range []string{"350 g/L", "46.7 oz / gal", "12 % w/w", "1.5 mol/L", "2 N (1/2 H2SO4)"} {
		b.Run(text, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Parse[BathConcentration](text); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkUnmarshal(b *testing.B) {
	for _, text := range []string{"120 L", "4.2 cu. ft."} {
		b.Run(text, func(b *testing.B) {
			b.ReportAllocs()
			var s Stated[Volume]
			for b.Loop() {
				if err := s.UnmarshalText([]byte(text)); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
