// Package hazard classifies a mixture from its ingredients, with the reason
// for every class, and gives the label elements that go with the classes.
//
//	Mixture.Classify   classes, estimates of acute toxicity, what is unknown
//	Label              signal word, pictograms, statements, precautions
//	Compare            what a supplier declares beside what is computed
//	AquaticSubstance   category and M-factor of a substance from its tests
//	Methods            hazard.mixture, hazard.label, hazard.aquatic
//
// It goes by 29 CFR 1910.1200 Appendices A and C (regime us), Regulation (EC)
// No 1272/2008 Annexes I, II and VI (eu, also in force in Great Britain) and
// the Globally Harmonized System of the United Nations (un, for checks). Every
// limit stands with its source in data/*.csv. The US text read is that of the
// 2012 rule; most limits of the European Annex I are recalled.
//
// What is done where the three differ:
//
//   - us: known oral and dermal estimates above Category 4 up to 5000 mg/kg
//     count in the sum; the low cut-offs for sensitisers, carcinogens and target
//     organs; no specific concentration limits, no aquatic classes; Eye Irrit.
//     2A and 2B
//   - eu: Categories 1 to 4 count; the high cut-offs; specific concentration
//     limits take the place of the general ones; supplemental EUH statements
//   - un: Acute Tox. 5, Skin Irrit. 3, Aquatic Acute 2 and 3; where the
//     document leaves a choice of cut-offs, the lower
//
// Not covered: test data on the mixture and bridging from similar ones, which
// come before any of this; the acid or alkaline reserve; gases, aspiration, the
// classes of Delegated Regulation (EU) 2023/707, EUH210; physical classes,
// which come from tests (a supplier's class or a specific limit is used, else a
// caveat stands); ingredients that react with one another; hazard outside the
// classes. A person who answers for the label must review it.
package hazard

// Regime is the law by which a mixture is classified.
type Regime string

// The regimes.
const (
	US Regime = "us"
	EU Regime = "eu"
	UN Regime = "un"
)

// Regimes are all regimes.
func Regimes() []Regime { return []Regime{US, EU, UN} }

// specificLimits reports whether limits published for one substance take the
// place of the general ones.
func (r Regime) specificLimits() bool { return r == EU }

// aquatic reports whether the regime classifies for the aquatic environment.
func (r Regime) aquatic() bool { return r != US }
