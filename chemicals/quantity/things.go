package quantity

// The things and their units. Factors are exact: 1 in = 0.0254 m,
// 1 gal = 231 in³, 1 lb = 453.59237 g, 1 troy oz = 31.1034768 g, 1 gr =
// 64.79891 mg (NIST Special Publication 811, 2008, appendix B). The bounds are
// ours: generous for a job shop, tight enough to catch a slip of the unit.
var (
	volume = thing{
		name: "a volume", example: "120 L", metric: "L", us: "gal", most: 1e9, dimension: volumeOf, si: 1000,
		units: []unit{
			{symbol: "L", factor: float64(Litre), also: []string{"l", "litre", "litres", "liter", "liters"}},
			{symbol: "mL", factor: float64(Millilitre), also: []string{"ml", "cm³"}},
			{symbol: "gal", factor: float64(Gallon), also: []string{"gallon", "gallons", "US gal"}},
			{symbol: "ft³", factor: float64(CubicFoot), also: []string{"cu ft"}},
			{symbol: "m³", factor: float64(CubicMetre)},
		},
	}
	mass = thing{
		name: "a mass", example: "25 kg", metric: "kg", us: "lb", most: 1e10, dimension: massOf, si: 1000,
		units: []unit{
			{symbol: "g", factor: float64(Gram)},
			{symbol: "mg", factor: float64(Milligram)},
			{symbol: "kg", factor: float64(Kilogram)},
			{symbol: "t", factor: float64(Tonne)},
			{symbol: "oz", factor: float64(Ounce)},
			{symbol: "troy oz", factor: float64(TroyOunce), also: []string{"ozt"}},
			{symbol: "lb", factor: float64(Pound), also: []string{"lbs"}},
		},
	}
	length = thing{
		name: "a length", example: "1.2 m", metric: "m", us: "ft", most: 1e4, dimension: lengthOf, si: 1,
		units: []unit{
			{symbol: "m", factor: float64(Metre)},
			{symbol: "µm", factor: float64(Micrometre), also: []string{"micron", "microns"}},
			{symbol: "mil", factor: float64(Mil), also: []string{"mils"}},
			{symbol: "µin", factor: float64(Microinch)},
			{symbol: "mm", factor: float64(Millimetre)},
			{symbol: "cm", factor: float64(Centimetre)},
			{symbol: "in", factor: float64(Inch)},
			{symbol: "ft", factor: float64(Foot)},
		},
	}
	area = thing{
		name: "an area", example: "14 m²", metric: "m²", us: "ft²", most: 1e8, dimension: areaOf, si: 1,
		units: []unit{
			{symbol: "m²", factor: float64(SquareMetre)},
			{symbol: "cm²", factor: float64(SquareCentimetre)},
			{symbol: "dm²", factor: float64(SquareDecimetre)},
			{symbol: "ft²", factor: float64(SquareFoot), also: []string{"sq ft"}},
		},
	}
	duration = thing{
		name: "a time", example: "8 h", metric: "h", us: "h", most: 1e6, dimension: timeOf, si: 1. / 3600,
		units: []unit{
			{symbol: "h", factor: float64(Hour), also: []string{"hr", "hour", "hours"}},
			{symbol: "s", factor: float64(Second), also: []string{"sec"}},
			{symbol: "min", factor: float64(Minute)},
			{symbol: "day", factor: float64(Day), also: []string{"d", "days"}},
		},
	}
	density = thing{
		name: "a density", example: "1.18 g/mL", metric: "g/mL", us: "g/mL", least: 0.02, most: 25, dimension: densityOf, si: 1. / 1000,
		units: []unit{
			{symbol: "g/mL", factor: 1, also: []string{"g/ml", "g/cm³"}},
			{symbol: "kg/L", factor: 1, also: []string{"kg/l"}},
			{
				symbol: "°Bé", also: []string{"Bé", "Be", "deg Bé"},
				toBase:  func(be float64) float64 { return 145 / (145 - be) },
				toUnits: func(d float64) float64 { return 145 - 145/d },
			},
		},
	}
	molarMass = thing{
		name: "a molar mass", example: "58.69 g/mol", metric: "g/mol", us: "g/mol", least: 1, most: 1e7, dimension: molarMassOf, si: 1000,
		units: []unit{{symbol: "g/mol", factor: float64(GramPerMole)}},
	}
	speed = thing{
		name: "a speed", example: "0.5 m/s", metric: "m/s", us: "ft/min", most: 100, dimension: speedOf, si: 1,
		units: []unit{
			{symbol: "m/s", factor: float64(MetrePerSecond)},
			{symbol: "ft/min", factor: float64(FootPerMinute), also: []string{"fpm"}},
			{symbol: "cm/s", factor: float64(CentimetrePerSecond)},
		},
	}
	effluentConcentration = thing{
		name: "a concentration in water", example: "0.31 mg/L", metric: "mg/L", us: "mg/L", most: 1e6, dimension: densityOf, si: 1000,
		units: []unit{
			{symbol: "mg/L", factor: float64(MilligramPerLitre), also: []string{"mg/l"}},
			{symbol: "µg/L", factor: float64(MicrogramPerLitre), also: []string{"µg/l"}},
		},
	}
	solidsConcentration = thing{
		name: "a content of a solid", example: "120 mg/kg", metric: "mg/kg", us: "mg/kg", most: 1e6, dimension: massShare, si: 1e6,
		units: []unit{{symbol: "mg/kg", factor: float64(MilligramPerKilogram)}},
	}
	flow = thing{
		name: "a flow of water", example: "6 L/min", metric: "L/min", us: "gal/min", most: 1e7, dimension: volumeRate, si: 60000,
		units: []unit{
			{symbol: "L/min", factor: float64(LitrePerMinute), also: []string{"l/min"}},
			{symbol: "L/h", factor: float64(LitrePerHour), also: []string{"l/h"}},
			{symbol: "L/day", factor: float64(LitrePerDay), also: []string{"L/d", "l/day"}},
			{symbol: "gal/min", factor: float64(GallonPerMinute), also: []string{"gpm"}},
			{symbol: "gal/h", factor: float64(GallonPerHour), also: []string{"gph"}},
			{symbol: "gal/day", factor: float64(GallonPerDay), also: []string{"gal/d", "gpd"}},
			{symbol: "MGD", factor: float64(MillionGallonsPerDay), also: []string{"mgd"}},
			{symbol: "m³/h", factor: float64(CubicMetrePerHour)},
			{symbol: "m³/day", factor: float64(CubicMetrePerDay), also: []string{"m³/d"}},
		},
	}
	film = thing{
		name: "a drag-out per area", example: "0.08 L/m²", metric: "L/m²", us: "gal/1000 ft²", most: 100, dimension: lengthOf, si: 1000,
		units: []unit{
			{symbol: "L/m²", factor: float64(LitrePerSquareMetre), also: []string{"l/m²"}},
			{symbol: "mL/ft²", factor: float64(MillilitrePerSquareFoot), also: []string{"ml/ft²"}},
			{symbol: "gal/1000 ft²", factor: float64(GallonPerThousandSquareFeet)},
		},
	}
	loadVolume = thing{
		name: "a drag-out per load", example: "250 mL", metric: "L", us: "L", most: 1e4, dimension: volumeOf, si: 1000,
		units: []unit{
			{symbol: "L", factor: float64(LitrePerLoad), also: []string{"l"}},
			{symbol: "mL", factor: float64(MillilitrePerLoad), also: []string{"ml"}},
		},
	}
	evaporation = thing{
		name: "an evaporation", example: "1.5 L/h·m²", metric: "L/h·m²", us: "gal/h·ft²", most: 1000, dimension: speedOf, si: 3.6e6,
		units: []unit{
			{symbol: "L/h·m²", factor: float64(LitrePerHourSquareMetre)},
			{symbol: "gal/h·ft²", factor: float64(GallonPerHourSquareFoot)},
		},
	}
	rateOfMass = thing{
		name: "a mass per time", example: "12 g/h", metric: "g/h", us: "lb/day", most: 1e8, dimension: massRate, si: 3.6e6,
		units: []unit{
			{symbol: "g/h", factor: float64(GramPerHour)},
			{symbol: "mg/min", factor: float64(MilligramPerMinute)},
			{symbol: "kg/h", factor: float64(KilogramPerHour)},
			{symbol: "kg/day", factor: float64(KilogramPerDay), also: []string{"kg/d"}},
			{symbol: "lb/day", factor: float64(PoundPerDay), also: []string{"lb/d"}},
		},
	}
	arealMass = thing{
		name: "a mass per area", example: "160 mg/m²", metric: "mg/m²", us: "lb/10⁶ ft²", most: 1e9, dimension: massPerArea, si: 1e6,
		units: []unit{
			{symbol: "mg/m²", factor: float64(MilligramPerSquareMetre)},
			{symbol: "lb/10⁶ ft²", factor: float64(PoundPerMillionSquareFeet), also: []string{"lb/Mft²", "lb/1000000 ft²"}},
		},
	}
	current = thing{
		name: "a current", example: "80 A", metric: "A", us: "A", most: 1e6, dimension: currentOf, si: 1,
		units: []unit{{symbol: "A", factor: float64(Ampere)}},
	}
	currentDensity = thing{
		name: "a current density", example: "2.5 A/dm²", metric: "A/dm²", us: "A/ft²", most: 1e4, dimension: currentPerArea, si: 0.01,
		units: []unit{
			{symbol: "A/dm²", factor: float64(AmperePerSquareDecimetre)},
			{symbol: "A/ft²", factor: float64(AmperePerSquareFoot), also: []string{"ASF"}},
		},
	}
	charge = thing{
		name: "a charge", example: "400 A·h", metric: "A·h", us: "A·h", most: 1e9, dimension: chargeOf, si: 1. / 3600,
		units: []unit{
			{symbol: "A·h", factor: float64(AmpereHour)},
			{symbol: "A·min", factor: float64(AmpereMinute)},
			{symbol: "C", factor: float64(Coulomb), also: []string{"A·s"}},
		},
	}
	equivalent = thing{
		name: "an electrochemical equivalent", example: "1.095 g/A·h", metric: "g/A·h", us: "g/A·h", most: 100, dimension: massPerCharge, si: 3.6e6,
		units: []unit{{symbol: "g/A·h", factor: float64(GramPerAmpereHour)}},
	}
	conductivity = thing{
		name: "a conductivity", example: "350 µS/cm", metric: "µS/cm", us: "µS/cm", most: 1e7, dimension: conductance, si: 1e4,
		units: []unit{{symbol: "µS/cm", factor: 1}},
	}
	temperature = thing{
		name: "a temperature", example: "55 °C", metric: "°C", us: "°F", least: -100, most: 2000, dimension: temperatureOf, si: 1,
		units: []unit{
			{symbol: "°C", factor: 1, also: []string{"C", "deg C"}},
			{
				symbol: "°F", also: []string{"F", "deg F"},
				toBase:  func(f float64) float64 { return (f - 32) * 5 / 9 },
				toUnits: func(c float64) float64 { return c*9/5 + 32 },
			},
		},
	}
	temperatureDifference = thing{
		name: "a temperature difference", example: "10 °C", metric: "°C", us: "°F", least: -2000, most: 2000, dimension: intervalOf, si: 1,
		units: []unit{
			{symbol: "°C", factor: float64(CelsiusDifference), also: []string{"C", "deg C", "K"}},
			{symbol: "°F", factor: float64(FahrenheitDifference), also: []string{"F", "deg F"}},
		},
	}
	viscosity = thing{
		name: "a viscosity", example: "1.2 mPa·s", metric: "mPa·s", us: "cP", most: 1e6, dimension: viscosityOf, si: 1000,
		units: []unit{
			{symbol: "mPa·s", factor: float64(MillipascalSecond)},
			{symbol: "cP", factor: float64(MillipascalSecond)},
		},
	}
	airflow = thing{
		name: "an airflow", example: "2400 m³/h", metric: "m³/h", us: "cfm", most: 1e5, dimension: volumeRate, si: 1,
		units: []unit{
			{symbol: "m³/s", factor: float64(CubicMetrePerSecond)},
			{symbol: "m³/min", factor: float64(CubicMetrePerMinute)},
			{symbol: "m³/h", factor: float64(AirCubicMetrePerHour)},
			{symbol: "cfm", factor: float64(CubicFootPerMinute), also: []string{"ft³/min"}},
		},
	}
	exhaustRate = thing{
		name: "an airflow per area", example: "150 cfm/ft²", metric: "m³/s·m²", us: "cfm/ft²", most: 100, dimension: speedOf, si: 1,
		units: []unit{
			{symbol: "m³/s·m²", factor: float64(CubicMetrePerSecondSquareMetre)},
			{symbol: "cfm/ft²", factor: float64(CubicFootPerMinuteSquareFoot)},
		},
	}
	grainLoading = thing{
		name: "a particle loading", example: "0.004 gr/dscf", metric: "gr/dscf", us: "gr/dscf", most: 1e4,
		dimension: densityOf, si: 0.028316846592 / 64.79891e-6,
		units: []unit{{symbol: "gr/dscf", factor: float64(GrainPerDryStandardCubicFoot), also: []string{"grains/dscf"}}},
	}
)

// The things that a struct type holds one of; see concentration.go and money.go.
var (
	bathMass = thing{
		name: "a concentration in a bath", example: "350 g/L", metric: "g/L", us: "oz/gal", most: 5000, dimension: densityOf, si: 1,
		units: []unit{
			{symbol: "g/L", factor: 1, also: []string{"g/l"}},
			{symbol: "oz/gal", factor: ouncePerGallon},
			{symbol: "troy oz/gal", factor: troyOuncePerGallon},
			{symbol: "mg/L", factor: 0.001, also: []string{"mg/l"}},
		},
	}
	bathVolume = thing{
		name: "a volume share of a bath", example: "50 mL/L", metric: "mL/L", us: "% v/v", most: 1000, dimension: volumeShare, si: 1000,
		units: []unit{
			{symbol: "mL/L", factor: 1, also: []string{"ml/L", "ml/l"}},
			{symbol: "% v/v", factor: 10, also: []string{"vol%", "vol %"}},
		},
	}
	massFraction = thing{
		name: "a mass share", example: "12 % w/w", metric: "% w/w", us: "% w/w", most: 100, dimension: massShare, si: 100,
		units: []unit{{symbol: "% w/w", factor: 1, also: []string{"wt%", "wt %"}}},
	}
	molarity = thing{
		name: "an amount concentration", example: "1.5 mol/L", metric: "mol/L", us: "mol/L", most: 100, dimension: amountOf, si: 1. / 1000,
		units: []unit{{symbol: "mol/L", factor: 1, also: []string{"mol/l"}}},
	}
	normality = thing{
		name: "a normality", example: "2 N (1/2 H2SO4)", metric: "N", us: "N", most: 200, dimension: equivalents, si: 1. / 1000, note: equivalentOf,
		units: []unit{{symbol: "N", factor: 1}},
	}
	airMass = thing{
		name: "a concentration in air", example: "0.5 mg/m³", metric: "mg/m³", us: "mg/m³", most: 1e9, dimension: densityOf, si: 1e6,
		units: []unit{
			{symbol: "mg/m³", factor: 1},
			{symbol: "µg/m³", factor: 0.001},
		},
	}
	airVolume = thing{
		name: "a share of the air", example: "5 ppm", metric: "ppm", us: "ppm", most: 1e6, dimension: airShare, si: 1e6,
		units: []unit{{symbol: "ppm", factor: 1}},
	}
)

const (
	ouncePerGallon     = 28.349523125 / 3.785411784
	troyOuncePerGallon = 31.1034768 / 3.785411784
)

// every lists the things in the order in which a unit is looked up when the
// wanted thing does not have it.
var every = []*thing{
	&volume, &mass, &length, &area, &duration, &density, &molarMass, &speed,
	&bathMass, &bathVolume, &massFraction, &molarity, &normality,
	&effluentConcentration, &solidsConcentration, &airMass, &airVolume,
	&flow, &film, &evaporation, &rateOfMass, &arealMass,
	&current, &currentDensity, &charge, &equivalent, &conductivity,
	&temperature, &temperatureDifference, &viscosity,
	&airflow, &exhaustRate, &grainLoading, &loadVolume,
	&money, &moneyPerVolume, &moneyPerMass,
}
