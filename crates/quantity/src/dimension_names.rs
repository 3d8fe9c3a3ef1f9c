//! The trade's names for dimensions.
//!
//! Every named dimension is one row: the name that messages use, other names that are accepted
//! where a dimension is asked for by name, and the units that results of this dimension are
//! usually given in.

use crate::dimension::Dimension;
use crate::unit::Unit;

/// A dimension that the trade has a name for.
#[derive(Debug)]
pub struct DimensionName {
    /// The dimension.
    pub dimension: Dimension,
    /// The name used in messages.
    pub name: &'static str,
    /// Other names, accepted but not used in messages.
    pub also: &'static [&'static str],
    /// The units that results are usually given in, the most usual first. A choice of units in a
    /// file picks the first row whose words it lists.
    pub(crate) usual_units: &'static [&'static str],
}

macro_rules! dimension_names {
    ($($dimension:ident $name:literal [$($also:literal),*] [$($unit:literal),*])*) => {
        &[$(DimensionName {
            dimension: Dimension::$dimension,
            name: $name,
            also: &[$($also),*],
            usual_units: &[$($unit),*],
        }),*]
    };
}

#[rustfmt::skip]
static NAMES: &[DimensionName] = dimension_names! {
    RATIO "ratio" ["angle", "number", "slope", "strain"] []
    LENGTH "length" ["distance", "deflection"] ["mm", "in", "m", "ft", "cm"]
    AREA "area" [] ["mm^2", "in^2", "m^2", "ft^2", "cm^2"]
    FIRST_MOMENT_OF_AREA "first moment of area" ["section modulus", "volume"]
        ["mm^3", "in^3", "m^3", "ft^3", "cm^3"]
    SECOND_MOMENT_OF_AREA "second moment of area" ["torsion constant"]
        ["mm^4", "in^4", "m^4", "ft^4", "cm^4"]
    WARPING_CONSTANT "warping constant" [] ["mm^6", "in^6", "m^6", "ft^6", "cm^6"]
    CURVATURE "curvature" [] ["1/m", "1/in"]
    FORCE "force" ["weight"] ["kN", "N", "MN", "kip", "lbf", "kgf"]
    FORCE_PER_LENGTH "force per length" ["spring stiffness", "shear flow"]
        ["kN/m", "N/mm", "N/m", "MN/m", "kip/ft", "lbf/ft", "kip/in", "lbf/in", "kgf/m"]
    MOMENT "moment" ["energy", "work", "rotational stiffness"]
        ["kN*m", "N*mm", "N*m", "MN*m", "kip-ft", "kip*ft", "kip*in", "lbf*ft", "lbf*in", "kgf*m"]
    STRESS "stress" ["pressure", "modulus"]
        ["MPa", "GPa", "kPa", "Pa", "N/mm^2", "ksi", "psi", "ksf", "psf", "kN/m^2"]
    FORCE_PER_VOLUME "force per volume" ["specific weight", "subgrade modulus"]
        ["kN/m^3", "N/mm^3", "N/m^3", "lbf/ft^3", "kip/ft^3", "lbf/in^3", "kip/in^3"]
    FLEXURAL_RIGIDITY "flexural rigidity" ["torsional rigidity", "bimoment"]
        ["kN*m^2", "N*mm^2", "N*m^2", "MN*m^2", "kip*in^2", "kip*ft^2", "lbf*in^2", "lbf*ft^2"]
    WARPING_RIGIDITY "warping rigidity" []
        ["kN*m^4", "N*mm^4", "N*m^4", "MN*m^4", "kip*in^4", "kip*ft^4", "lbf*in^4", "lbf*ft^4"]
    MASS "mass" [] ["kg", "t", "g", "lb", "slug"]
    MASS_PER_LENGTH "mass per length" [] ["kg/m", "t/m", "lb/ft", "slug/ft"]
    MASS_PER_AREA "mass per area" [] ["kg/m^2", "t/m^2", "lb/ft^2", "slug/ft^2"]
    DENSITY "density" ["mass per volume"] ["kg/m^3", "t/m^3", "lb/ft^3", "slug/ft^3"]
    TIME "time" [] ["s", "ms"]
    FREQUENCY "frequency" [] ["Hz"]
    VELOCITY "velocity" ["speed"] ["m/s", "mm/s", "ft/s", "in/s"]
    ACCELERATION "acceleration" [] ["m/s^2", "mm/s^2", "ft/s^2", "in/s^2"]
    TEMPERATURE "temperature" ["temperature difference"] ["K"]
    THERMAL_EXPANSION "thermal expansion" [] ["1/K"]
};

/// Every named dimension, for completion and documentation.
pub fn names() -> &'static [DimensionName] {
    NAMES
}

impl Dimension {
    /// The row of this dimension, if the trade has a name for it.
    pub(crate) fn row(self) -> Option<&'static DimensionName> {
        NAMES.iter().find(|row| row.dimension == self)
    }

    /// The trade's name, as `area`; `None` for a dimension without one.
    pub fn name(self) -> Option<&'static str> {
        self.row().map(|row| row.name)
    }

    /// The dimension of this name. Any white space may stand between the words.
    pub fn from_name(name: &str) -> Option<Self> {
        let same = |candidate: &str| candidate.split_whitespace().eq(name.split_whitespace());
        NAMES
            .iter()
            .find(|row| same(row.name) || row.also.iter().any(|also| same(also)))
            .map(|row| row.dimension)
    }

    /// A unit that this dimension is usually given in: mm⁴, kN·m, MPa; for a dimension without a
    /// name a product of the trade's working units, as N²/mm. A ratio has [`Unit::one`].
    pub fn typical_unit(self) -> Unit {
        Unit::typical(self)
    }

    /// The name if there is one, else the units: `area`, `N²/mm`.
    pub fn name_or_units(self) -> String {
        match self.name() {
            Some(name) => name.to_string(),
            None => self.typical_unit().to_string(),
        }
    }

    /// The name with its article: `an area`, `a length`, `a ratio (no unit)`, `a quantity in N²/mm`.
    pub fn with_article(self) -> String {
        match self.name() {
            None => format!("a quantity in {}", self.typical_unit()),
            Some(name) if self.is_ratio() => format!("a {name} (no unit)"),
            Some(name) => format!("{} {name}", article(name)),
        }
    }

    /// The name with a typical unit: `area (mm²)`, `ratio (no unit)`, `quantity in N²/mm`.
    pub fn describe(self) -> String {
        match self.name() {
            None => format!("quantity in {}", self.typical_unit()),
            Some(name) if self.is_ratio() => format!("{name} (no unit)"),
            Some(name) => format!("{name} ({})", self.typical_unit()),
        }
    }

    /// The description with its article: `an area (mm²)`, `a ratio (no unit)`.
    pub fn describe_with_article(self) -> String {
        let description = self.describe();
        format!("{} {description}", article(&description))
    }
}

/// The indefinite article for one of the names above (none begins with a silent letter).
fn article(name: &str) -> &'static str {
    if name.starts_with(['a', 'e', 'i', 'o', 'u']) {
        "an"
    } else {
        "a"
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashSet;

    #[test]
    fn every_name_leads_to_its_dimension_and_to_no_other() {
        let mut seen = HashSet::new();
        let mut dimensions = HashSet::new();
        for row in names() {
            assert!(dimensions.insert(row.dimension), "{}", row.name);
            for name in std::iter::once(&row.name).chain(row.also) {
                assert!(seen.insert(*name), "{name}");
                assert_eq!(Dimension::from_name(name), Some(row.dimension), "{name}");
            }
            assert_eq!(row.dimension.name(), Some(row.name));
        }
        assert_eq!(
            Dimension::from_name("  first  moment of\tarea "),
            Some(Dimension::FIRST_MOMENT_OF_AREA)
        );
        assert_eq!(Dimension::from_name("lenght"), None);
        assert_eq!(Dimension::from_name(""), None);
    }

    #[test]
    fn every_usual_unit_has_the_dimension_of_its_row() {
        for row in names() {
            for text in row.usual_units {
                let unit = Unit::parse(text).unwrap();
                assert_eq!(unit.dimension(), row.dimension, "{text}");
            }
            assert_eq!(row.usual_units.is_empty(), row.dimension.is_ratio());
        }
    }

    #[test]
    fn descriptions_read_well() {
        let fifth = Dimension::from_integers(5, 0, 0, 0);
        assert_eq!(Dimension::AREA.describe(), "area (mm²)");
        assert_eq!(Dimension::AREA.with_article(), "an area");
        assert_eq!(Dimension::LENGTH.with_article(), "a length");
        assert_eq!(Dimension::RATIO.with_article(), "a ratio (no unit)");
        assert_eq!(
            Dimension::RATIO.describe_with_article(),
            "a ratio (no unit)"
        );
        assert_eq!(
            Dimension::FIRST_MOMENT_OF_AREA.describe_with_article(),
            "a first moment of area (mm³)"
        );
        assert_eq!(Dimension::MOMENT.describe_with_article(), "a moment (kN·m)");
        assert_eq!(Dimension::ACCELERATION.with_article(), "an acceleration");
        assert_eq!(
            Dimension::THERMAL_EXPANSION.describe(),
            "thermal expansion (1/K)"
        );
        assert_eq!(fifth.describe_with_article(), "a quantity in mm⁵");
        assert_eq!(fifth.name_or_units(), "mm⁵");
    }

    #[test]
    fn unnamed_dimensions_are_written_in_working_units() {
        let unit = |length, mass, time| {
            let dimension = Dimension::from_integers(length, mass, time, 0);
            dimension.typical_unit().to_string()
        };
        assert_eq!(unit(1, 2, -4), "N²/mm");
        assert_eq!(unit(3, 0, -1), "mm³/s");
        assert_eq!(unit(1, -1, 0), "mm/kg");
        let root = Dimension::LENGTH
            .checked_power(crate::Rational::HALF)
            .unwrap();
        assert_eq!(root.typical_unit().to_string(), "m^(1/2)");
        let toughness = root.checked_multiply(Dimension::STRESS).unwrap();
        assert_eq!(toughness.typical_unit().to_string(), "N/m^(3/2)");
    }
}
