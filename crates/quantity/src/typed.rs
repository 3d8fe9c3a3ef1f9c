//! Quantities whose dimension the compiler checks, and the one bridge to run-time quantities.
//!
//! The numerics of sections and beams take and give these types at their edge, so that a force
//! cannot be handed over where a moment is asked for. They hold coherent SI values (m, kg, s, K)
//! and are never printed: [`Typed::to_quantity`] leads to the side that knows units of display.

use std::fmt;

use dimensioned::si;
use dimensioned::typenum::{ATerm, Integer, N2, P1, P3, P4, P6, Quot, TArr, Z0};

use crate::dimension::Dimension;
use crate::quantity::Quantity;

/// A plain number: a ratio, a count or an angle in radians.
pub type Ratio = si::Unitless<f64>;
/// m
pub type Length = si::Meter<f64>;
/// m²
pub type Area = si::Meter2<f64>;
/// m³: first moment of area, section modulus, plastic modulus.
pub type FirstMomentOfArea = si::Meter3<f64>;
/// m⁴: second moment of area, product moment of area, torsion constant.
pub type SecondMomentOfArea = si::SI<f64, FourthPowerOfLength>;
/// m⁶
pub type WarpingConstant = si::SI<f64, SixthPowerOfLength>;
/// 1/m
pub type Curvature = si::PerMeter<f64>;
/// kg
pub type Mass = si::Kilogram<f64>;
/// kg/m
pub type MassPerLength = si::KilogramPerMeter<f64>;
/// kg/m³
pub type Density = si::KilogramPerMeter3<f64>;
/// s
pub type Time = si::Second<f64>;
/// m/s²
pub type Acceleration = si::MeterPerSecond2<f64>;
/// N
pub type Force = si::Newton<f64>;
/// N/m: load on a length, shear flow, stiffness of a spring.
pub type ForcePerLength = si::NewtonPerMeter<f64>;
/// N·m; to the compiler the same type as an energy in joule.
pub type Moment = si::Joule<f64>;
/// Pa = N/m²: stress, modulus of elasticity, load on an area.
pub type Stress = si::Pascal<f64>;
/// N/m³
pub type ForcePerVolume = Quot<Stress, Length>;
/// N, the product E·A.
pub type AxialRigidity = Force;
/// N·m², the product E·I.
pub type FlexuralRigidity = si::SI<f64, ForceTimesArea>;
/// N·m/rad: stiffness of a support against turning.
pub type RotationalStiffness = Moment;
/// K, a difference of temperatures.
pub type Temperature = si::Kelvin<f64>;
/// K/m
pub type TemperatureGradient = si::KelvinPerMeter<f64>;
/// 1/K
pub type ThermalExpansion = si::PerKelvin<f64>;

type FourthPowerOfLength = Exponents<P4, Z0, Z0, Z0>;
type SixthPowerOfLength = Exponents<P6, Z0, Z0, Z0>;
type ForceTimesArea = Exponents<P3, P1, N2, Z0>;

/// The exponents of metre, kilogram, second, ampere (none), kelvin, candela (none), mole (none).
type Exponents<Meter, Kilogram, Second, Kelvin> =
    TArr<Meter, TArr<Kilogram, TArr<Second, TArr<Z0, TArr<Kelvin, TArr<Z0, TArr<Z0, ATerm>>>>>>>;

/// A run-time quantity did not have the dimension that the code asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WrongDimension {
    /// The dimension that was asked for.
    pub expected: Dimension,
    /// The dimension that the quantity has.
    pub found: Dimension,
}

impl fmt::Display for WrongDimension {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "expected the dimension {:?}, found {:?}",
            self.expected, self.found
        )
    }
}

impl std::error::Error for WrongDimension {}

/// A quantity whose dimension is part of its type.
///
/// There is one implementation, for every `si::SI<f64, …>` without electrical, optical or
/// chemical units. Its exponents are whole numbers: a run-time quantity such as √m has no typed
/// counterpart, and converting it is an error.
pub trait Typed: Copy {
    /// The run-time dimension of this type.
    fn dimension() -> Dimension;

    /// The quantity with this value in coherent SI units.
    fn from_si(value: f64) -> Self;

    /// The value in coherent SI units.
    fn si(self) -> f64;

    /// The typed form of a run-time quantity.
    ///
    /// # Errors
    /// [`WrongDimension`] when the quantity has another dimension than the type.
    fn from_quantity(quantity: Quantity) -> Result<Self, WrongDimension> {
        let expected = Self::dimension();
        let found = quantity.dimension();
        if found == expected {
            Ok(Self::from_si(quantity.si()))
        } else {
            Err(WrongDimension { expected, found })
        }
    }

    /// The run-time quantity; `None` when the value is infinite or not a number.
    fn to_quantity(self) -> Option<Quantity> {
        Quantity::new(self.si(), Self::dimension())
    }
}

impl<Meter, Kilogram, Second, Kelvin> Typed
    for si::SI<f64, Exponents<Meter, Kilogram, Second, Kelvin>>
where
    Meter: Integer,
    Kilogram: Integer,
    Second: Integer,
    Kelvin: Integer,
    Self: Copy,
{
    fn dimension() -> Dimension {
        Dimension::from_integers(
            Meter::to_i32(),
            Kilogram::to_i32(),
            Second::to_i32(),
            Kelvin::to_i32(),
        )
    }

    fn from_si(value: f64) -> Self {
        Self::new(value)
    }

    fn si(self) -> f64 {
        self.value_unsafe
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_type_has_the_dimension_of_its_name() {
        assert_eq!(Ratio::dimension(), Dimension::RATIO);
        assert_eq!(Length::dimension(), Dimension::LENGTH);
        assert_eq!(Area::dimension(), Dimension::AREA);
        assert_eq!(
            FirstMomentOfArea::dimension(),
            Dimension::FIRST_MOMENT_OF_AREA
        );
        assert_eq!(
            SecondMomentOfArea::dimension(),
            Dimension::SECOND_MOMENT_OF_AREA
        );
        assert_eq!(WarpingConstant::dimension(), Dimension::WARPING_CONSTANT);
        assert_eq!(Curvature::dimension(), Dimension::CURVATURE);
        assert_eq!(Mass::dimension(), Dimension::MASS);
        assert_eq!(MassPerLength::dimension(), Dimension::MASS_PER_LENGTH);
        assert_eq!(Density::dimension(), Dimension::DENSITY);
        assert_eq!(Time::dimension(), Dimension::TIME);
        assert_eq!(Acceleration::dimension(), Dimension::ACCELERATION);
        assert_eq!(Force::dimension(), Dimension::FORCE);
        assert_eq!(ForcePerLength::dimension(), Dimension::FORCE_PER_LENGTH);
        assert_eq!(ForcePerVolume::dimension(), Dimension::FORCE_PER_VOLUME);
        assert_eq!(Moment::dimension(), Dimension::MOMENT);
        assert_eq!(Stress::dimension(), Dimension::STRESS);
        assert_eq!(FlexuralRigidity::dimension(), Dimension::FLEXURAL_RIGIDITY);
        assert_eq!(Temperature::dimension(), Dimension::TEMPERATURE);
        assert_eq!(
            TemperatureGradient::dimension(),
            Dimension::from_integers(-1, 0, 0, 1)
        );
        assert_eq!(ThermalExpansion::dimension(), Dimension::THERMAL_EXPANSION);
    }

    #[test]
    fn there_and_back_is_the_same_quantity() {
        let moment = Quantity::new(12e3, Dimension::MOMENT).unwrap();
        assert_eq!(Moment::from_quantity(moment).unwrap().si(), 12e3);
        assert_eq!(
            Moment::from_quantity(moment).unwrap().to_quantity(),
            Some(moment)
        );
    }

    #[test]
    fn another_dimension_is_refused() {
        let force = Quantity::new(1.0, Dimension::FORCE).unwrap();
        assert_eq!(
            Moment::from_quantity(force),
            Err(WrongDimension {
                expected: Dimension::MOMENT,
                found: Dimension::FORCE,
            })
        );
    }

    #[test]
    fn what_is_no_number_is_no_quantity() {
        assert_eq!(Length::from_si(f64::NAN).to_quantity(), None);
        assert_eq!(Length::from_si(f64::INFINITY).to_quantity(), None);
    }

    #[test]
    fn products_have_the_type_of_their_name() {
        let force = Force::from_si(2.0);
        let arm = Length::from_si(3.0);
        let moment: Moment = force * arm;
        let modulus: FirstMomentOfArea = arm * arm * arm;
        let stress: Stress = moment / modulus;
        let second_moment: SecondMomentOfArea = modulus * arm;
        let rigidity: FlexuralRigidity = stress * second_moment;
        let curvature: Curvature = moment / rigidity;
        assert_eq!(rigidity.si(), 18.0);
        assert_eq!(curvature.si(), 6.0 / 18.0);
    }
}
