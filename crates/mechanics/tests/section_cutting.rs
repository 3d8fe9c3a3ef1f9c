//! Deductions on a grid, where edges lie on each other and corners meet, against counted cells;
//! and sizes of every kind, which must never give a number that is none.

use haunch_mechanics::section::{
    Forces, Outline, Part, Point, Problem, Section, Sense, Shape, Side,
};
use haunch_quantity::typed::{Force, Length, Moment, Ratio, Typed};
use proptest::prelude::*;

const SIZE: usize = 8;

type Cells = [[bool; SIZE]; SIZE];

/// Left, bottom, width and height in cells.
type Block = (usize, usize, usize, usize);

fn metres(value: f64) -> Length {
    Length::from_si(value)
}

fn rectangle((left, bottom, width, height): Block) -> Shape {
    // A cell of a tenth has corners that differ by rounding from block to block.
    let cell = |count: usize| metres(count as f64 * 0.1);
    Shape::Rectangle {
        left: cell(left),
        bottom: cell(bottom),
        width: cell(width),
        height: cell(height),
    }
}

fn clear(cells: &mut Cells, (left, bottom, width, height): Block) {
    for row in cells.iter_mut().skip(bottom).take(height) {
        row.iter_mut()
            .skip(left)
            .take(width)
            .for_each(|cell| *cell = false);
    }
}

/// The number of pieces that hang together over a side or a corner.
fn pieces(mut cells: Cells) -> usize {
    let mut count = 0;
    for row in 0..SIZE {
        for column in 0..SIZE {
            let mut waiting = vec![(row, column)];
            let found = cells[row][column];
            while let Some((row, column)) = waiting.pop() {
                if !std::mem::take(&mut cells[row][column]) {
                    continue;
                }
                for r in row.saturating_sub(1)..(row + 2).min(SIZE) {
                    for c in column.saturating_sub(1)..(column + 2).min(SIZE) {
                        waiting.push((r, c));
                    }
                }
            }
            count += usize::from(found);
        }
    }
    count
}

fn block() -> impl Strategy<Value = Block> {
    (0..SIZE, 0..SIZE).prop_flat_map(|(left, bottom)| {
        (Just(left), Just(bottom), 1..=SIZE - left, 1..=SIZE - bottom)
            // Mostly small, so that something is left.
            .prop_map(|(left, bottom, width, height)| (left, bottom, width.min(3), height.min(3)))
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1000))]

    #[test]
    fn what_deductions_leave_is_what_the_cells_leave(
        blocks in prop::collection::vec(block(), 0..7), seam in 1..SIZE,
    ) {
        let mut cells = [[true; SIZE]; SIZE];
        blocks.iter().for_each(|&block| clear(&mut cells, block));
        let mut parts = vec![
            Part::material(rectangle((0, 0, SIZE, seam))),
            Part::material(rectangle((0, seam, SIZE, SIZE - seam))),
        ];
        parts.extend(blocks.iter().map(|&block| Part::deduction(rectangle(block))));
        let own = match Section::new(&parts) {
            Ok(own) => own,
            Err(problems) => {
                let all_gone = |problem: &Problem| matches!(problem, Problem::NothingLeft { .. });
                prop_assert!(problems.iter().all(all_gone), "{:?}", problems);
                return Ok(());
            }
        };
        let left = || cells.iter().enumerate().flat_map(|(row, cells)| {
            cells.iter().enumerate().filter(|(_, cell)| **cell).map(move |(column, _)| {
                (column as f64 * 0.1 + 0.05, row as f64 * 0.1 + 0.05)
            })
        });
        let count = left().count() as f64;
        let (x, y) = left().fold((0.0, 0.0), |sum, place| (sum.0 + place.0, sum.1 + place.1));
        let (x, y) = (x / count, y / count);
        let ixx: f64 = left().map(|place| 0.01 * (0.01 / 12.0 + (place.1 - y) * (place.1 - y))).sum();
        let ixy: f64 = left().map(|place| 0.01 * (place.0 - x) * (place.1 - y)).sum();
        prop_assert!((own.area().si() - count * 0.01).abs() < 1e-12);
        prop_assert!((own.centroid().x.si() - x).abs() < 1e-12);
        prop_assert!((own.centroid().y.si() - y).abs() < 1e-12);
        prop_assert!((own.second_moments().ixx.si() - ixx).abs() < 1e-12);
        prop_assert!((own.second_moments().ixy.si() - ixy).abs() < 1e-12);
        // Widths just above and below each level, and the first moment there.
        for row in 0..=SIZE {
            let level = metres(row as f64 * 0.1);
            let widths = own.width_at(level);
            let width = |row: Option<usize>| {
                let cells = row.and_then(|row| cells.get(row));
                cells.map_or(0.0, |row| row.iter().filter(|cell| **cell).count() as f64 * 0.1)
            };
            prop_assert!((widths.above.si() - width(Some(row))).abs() < 1e-12, "above {}", row);
            prop_assert!((widths.below.si() - width(row.checked_sub(1))).abs() < 1e-12, "below {}", row);
            let moment: f64 = left().filter(|place| place.1 > level.si()).map(|place| 0.01 * (place.1 - y)).sum();
            prop_assert!((own.first_moment_above(level).si() - moment).abs() < 1e-12);
        }
        for (row, cells) in cells.iter().enumerate() {
            for (column, cell) in cells.iter().enumerate() {
                let place = Point::new(metres(column as f64 * 0.1 + 0.05), metres(row as f64 * 0.1 + 0.05));
                prop_assert_eq!(own.contains(place), *cell);
            }
        }
        let found = own.warnings().iter().find_map(|warning| match warning {
            Problem::NotConnected { pieces } => Some(pieces.len()),
            _ => None,
        });
        prop_assert_eq!(found.unwrap_or(1), pieces(cells));
    }

    #[test]
    fn no_sizes_give_a_number_that_is_none(
        numbers in prop::collection::vec(
            prop::sample::select(vec![
                0.0, -0.0, 1.0, -1.0, 0.5, 2.0, 1e-9, 1e-7, 1.0 + 1e-10, 1e5, 1e-13, 1e13, 1e-300, 1e300,
                f64::MAX, f64::MIN_POSITIVE, f64::NAN, f64::INFINITY, f64::NEG_INFINITY,
            ]).prop_map(metres),
            12,
        ),
        ratio in prop::sample::select(vec![1.0, 1.0, 0.0, -2.0, f64::NAN, 1e30]),
    ) {
        let n = &numbers;
        let corner = |i: usize| Point::new(n[i % 12], n[(i + 1) % 12]);
        let shapes = [
            Shape::Rectangle { left: n[0], bottom: n[1], width: n[2], height: n[3] },
            Shape::Circle { centre: corner(2), diameter: n[4] },
            Shape::Tube { centre: corner(5), diameter: n[7], thickness: n[8] },
            Shape::Polygon((0..5).map(corner).collect()),
            Shape::Outline(Outline::starting_at(corner(3)).line_to(corner(6))
                .arc_to(corner(8), corner(10), Sense::Clockwise).close()
                .turned(Ratio::from_si(n[9].si()), corner(1))),
        ];
        let part = |shape: &Shape| Part::with_modular_ratio(shape.clone(), Ratio::from_si(ratio));
        for first in &shapes {
            for second in &shapes {
                for parts in [
                    vec![part(first), part(second)],
                    vec![part(first), Part::deduction(second.clone())],
                    vec![part(first)],
                ] {
                    if let Ok(own) = Section::new(&parts) {
                        check_finite(&own, corner(0));
                    }
                }
            }
        }
    }
}

fn check_finite(own: &Section, place: Point) {
    let principal = own.principal_axes();
    let force = Force::from_si(1.0);
    let forces = Forces {
        axial: force,
        moment_x: Moment::from_si(1.0),
        moment_y: Moment::from_si(1.0),
    };
    let extremes = own.extreme_stresses(&forces).unwrap();
    let mut numbers = vec![
        own.area().si(),
        own.centroid().x.si(),
        own.centroid().y.si(),
        own.second_moments().ixx.si(),
        own.second_moments().iyy.si(),
        own.second_moments().ixy.si(),
        principal.major.si(),
        principal.minor.si(),
        principal.angle.si(),
        own.section_modulus(Side::Top).si(),
        own.section_modulus(Side::Left).si(),
        own.gyration_x().si(),
        own.first_moment_above(own.centroid().y).si(),
        extremes.greatest.stress.si(),
        extremes.least.stress.si(),
    ];
    if let Ok(shear) = own.largest_shear_stress(force) {
        numbers.extend([shear.stress.si(), shear.y.si()]);
    }
    for plastic in [own.plastic_x(), own.plastic_y()].into_iter().flatten() {
        numbers.extend([plastic.modulus.si(), plastic.neutral_axis.si()]);
        assert!(plastic.shape_factor.si() >= 1.0 - 1e-9, "{own:?}");
    }
    for stress in own.stress(&forces, place).into_iter().flatten() {
        numbers.push(stress.stress.si());
    }
    assert!(
        numbers.iter().all(|number| number.is_finite()),
        "{numbers:?}\n{own:?}"
    );
    assert!(
        own.area().si() > 0.0 && principal.minor.si() > 0.0,
        "{numbers:?}\n{own:?}"
    );
}
