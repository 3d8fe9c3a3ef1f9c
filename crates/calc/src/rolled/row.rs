//! One row of the table of rolled sizes.

use haunch_mechanics::section::Outline;
use haunch_mechanics::shapes::{Angle, Channel, HollowRectangle, IShape, Pipe, Taper, Tee};
use haunch_quantity::typed::{Length, Ratio, Typed};

/// A rolled size.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct RolledSize {
    /// As the standard writes it.
    pub(crate) designation: &'static str,
    /// The standard of its series, e.g. `EN 10365`.
    pub(crate) standard: &'static str,
    shape: &'static str,
    /// Lengths in m, ratios as they are.
    sizes: Vec<f64>,
    #[cfg(test)]
    pub(super) published: [Option<Published>; 3],
}

/// A published property.
#[cfg(test)]
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Published {
    /// In SI.
    pub(super) value: f64,
    /// How far the published digits allow to differ.
    pub(super) tolerance: f64,
}

impl RolledSize {
    /// Reads a line of the table; none for a comment, or a line that is no row.
    pub(super) fn read(line: &'static str) -> Option<RolledSize> {
        let line = line.split('#').next()?;
        let mut columns = line.split('\t');
        let (designation, standard) = (columns.next()?, columns.next()?);
        let (shape, unit) = (columns.next()?, length(columns.next()?)?);
        let numbers = columns.next()?.split(' ').map(str::parse::<f64>);
        let mut sizes: Vec<f64> = numbers.collect::<Result<_, _>>().ok()?;
        // The last number of a channel is the slope of its flanges.
        let lengths = if shape == "channel" { 6 } else { sizes.len() };
        for size in sizes.iter_mut().take(lengths) {
            *size *= unit;
        }
        Some(RolledSize {
            designation,
            standard,
            shape,
            sizes,
            #[cfg(test)]
            published: [columns.next(), columns.next(), columns.next()]
                .map(|column| published(column?)),
        })
    }

    /// Its outline, the lower left corner of the rectangle round it at the origin.
    pub(crate) fn outline(&self) -> Option<Outline> {
        let length = Length::from_si;
        let outline = match (self.shape, self.sizes.as_slice()) {
            ("i", &[height, width, web, flange, root]) => IShape::with_equal_flanges(
                length(height),
                length(width),
                length(web),
                length(flange),
                length(root),
            )
            .outline(),
            ("tee", &[height, width, web, flange, root]) => Tee {
                height: length(height),
                width: length(width),
                web_thickness: length(web),
                flange_thickness: length(flange),
                root_radius: length(root),
            }
            .outline(),
            ("channel", &[height, width, web, flange, root, toe, slope]) => Channel {
                height: length(height),
                width: length(width),
                web_thickness: length(web),
                flange_thickness: length(flange),
                taper: Some(Taper {
                    slope: Ratio::from_si(slope),
                    measured_at: length(width) / 2.0,
                }),
                root_radius: length(root),
                toe_radius: length(toe),
            }
            .outline(),
            ("angle", &[height, width, thickness, root, toe]) => Angle {
                height: length(height),
                width: length(width),
                thickness: length(thickness),
                root_radius: length(root),
                toe_radius: length(toe),
            }
            .outline(),
            ("hollow", &[height, width, thickness, outer, inner]) => {
                HollowRectangle::with_equal_walls(
                    length(height),
                    length(width),
                    length(thickness),
                    length(outer),
                    length(inner),
                )
                .outline()
            }
            ("pipe", &[diameter, thickness]) => Pipe {
                diameter: length(diameter),
                thickness: length(thickness),
            }
            .outline(),
            _ => return None,
        };
        outline.ok()
    }

    /// The thickness of each wall, m: of web and flanges, legs, or the wall of a hollow size.
    pub(crate) fn walls(&self) -> Option<Vec<f64>> {
        match (self.shape, self.sizes.as_slice()) {
            ("i" | "tee", &[_, _, web, flange, _]) | ("channel", &[_, _, web, flange, _, _, _]) => {
                Some(vec![web, flange])
            }
            ("angle" | "hollow", &[_, _, thickness, _, _]) | ("pipe", &[_, thickness]) => {
                Some(vec![thickness])
            }
            _ => None,
        }
    }
}

/// The inch is exact by definition (international yard and pound agreement of 1959).
fn length(unit: &str) -> Option<f64> {
    match unit {
        "mm" => Some(1e-3),
        "inch" => Some(0.0254),
        _ => None,
    }
}

/// `10.3 cm^2 0.00485`
#[cfg(test)]
fn published(column: &str) -> Option<Published> {
    let mut words = column.split(' ');
    let value: f64 = words.next()?.parse().ok()?;
    let (name, power) = words.next()?.split_once('^')?;
    let length: f64 = match name {
        "cm" => 0.01,
        "inch" => 0.0254,
        _ => return None,
    };
    let power: usize = power.parse().ok()?;
    Some(Published {
        value: value * std::iter::repeat_n(length, power).product::<f64>(),
        tolerance: words.next()?.parse().ok()?,
    })
}
