package quantity

// Assay is how much of a metal a waste holds: of a sludge a share or mg/kg, of
// a spent bath a mass per volume.
type Assay struct{ m measure }

// AssayOfShare makes an assay of a share by mass.
func AssayOfShare(v MassShare) Assay { return Assay{v.measure()} }

// Share is the fraction by mass if the assay was written as a share or in
// mg/kg.
func (a Assay) Share() (float64, bool) {
	if v, ok := a.m.on(&massFraction); ok {
		return MassShare(v).Percent() / 100, true
	}
	v, ok := a.m.on(&solidsConcentration)
	return SolidsConcentration(v).MilligramsPerKilogram() / 1e6, ok
}

// GramsPerLitre is the assay if it was written as a mass per volume.
func (a Assay) GramsPerLitre() (float64, bool) {
	v, ok := a.m.on(&bathMass)
	return v, ok
}

func (Assay) things() []*thing     { return []*thing{&massFraction, &solidsConcentration, &bathMass} }
func (Assay) wrap(m measure) Assay { return Assay{m} }
func (a Assay) measure() measure   { return orBase(a.m, &massFraction) }

// Release is what a limit or a result on waste water states: a concentration,
// a mass in a time, or a mass for each processed area.
type Release struct{ m measure }

// OfEffluent makes a release of a concentration.
func OfEffluent(v EffluentConcentration) Release { return Release{v.measure()} }

// Concentration is r if it was written as one.
func (r Release) Concentration() (EffluentConcentration, bool) {
	v, ok := r.m.on(&effluentConcentration)
	return EffluentConcentration(v), ok
}

// MassRate is r if it was written as a mass in a time.
func (r Release) MassRate() (MassRate, bool) {
	v, ok := r.m.on(&rateOfMass)
	return MassRate(v), ok
}

// MassPerArea is r if it was written as a mass for each processed area.
func (r Release) MassPerArea() (MassPerArea, bool) {
	v, ok := r.m.on(&arealMass)
	return MassPerArea(v), ok
}

func (Release) things() []*thing       { return []*thing{&effluentConcentration, &rateOfMass, &arealMass} }
func (Release) wrap(m measure) Release { return Release{m} }
func (r Release) measure() measure     { return orBase(r.m, &effluentConcentration) }

// Price is what is paid for water and hauling by volume, for reagents and
// metals by mass.
type Price struct{ m measure }

// PerVolume is p if it was written by volume.
func (p Price) PerVolume() (MoneyPerVolume, bool) {
	_, ok := p.m.on(&moneyPerVolume)
	return MoneyPerVolume(p), ok
}

// PerMass is p if it was written by mass.
func (p Price) PerMass() (MoneyPerMass, bool) {
	_, ok := p.m.on(&moneyPerMass)
	return MoneyPerMass(p), ok
}

// Currency is the code, "USD".
func (p Price) Currency() string { return p.m.of }

func (Price) things() []*thing     { return []*thing{&moneyPerVolume, &moneyPerMass} }
func (Price) wrap(m measure) Price { return Price{m} }
func (p Price) measure() measure   { return orBase(p.m, &moneyPerVolume) }
