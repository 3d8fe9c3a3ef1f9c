//! Exact geometric decisions about points on a grid of whole numbers.

/// A point of the grid. Coordinates differ by less than 2³⁰.
pub(super) type GridPoint = [i64; 2];

/// Twice the signed area of a triangle: positive anticlockwise. Exact.
pub(super) fn turn(a: GridPoint, b: GridPoint, c: GridPoint) -> i64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

/// Whether `d` lies inside the circle through an anticlockwise triangle. Exact: plain numbers
/// decide where their rounding cannot matter, whole numbers of 128 bits elsewhere.
pub(super) fn is_in_circle(a: GridPoint, b: GridPoint, c: GridPoint, d: GridPoint) -> bool {
    let [ax, ay, bx, by, cx, cy] = [
        a[0] - d[0],
        a[1] - d[1],
        b[0] - d[0],
        b[1] - d[1],
        c[0] - d[0],
        c[1] - d[1],
    ];
    let minor = |px: i64, py: i64, qx: i64, qy: i64| px * qy - py * qx;
    let square = |x: i64, y: i64| x * x + y * y;
    let terms = [
        (square(ax, ay), minor(bx, by, cx, cy)),
        (square(bx, by), minor(cx, cy, ax, ay)),
        (square(cx, cy), minor(ax, ay, bx, by)),
    ];
    let products = terms.map(|(lift, minor)| lift as f64 * minor as f64);
    let sum: f64 = products.iter().sum();
    // Each product is rounded three times and each sum once, by 2⁻⁵³ at most.
    let doubt = 1e-15 * products.iter().map(|product| product.abs()).sum::<f64>();
    if sum.abs() > doubt {
        return sum > 0.0;
    }
    let exact: i128 = terms
        .iter()
        .map(|&(lift, minor)| i128::from(lift) * i128::from(minor))
        .sum();
    exact > 0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_on_the_circle_are_not_inside() {
        let size = (1 << 29) - 1;
        let [a, b, c, d] = [[0, 0], [size, 0], [size, size], [0, size]];
        assert!(!is_in_circle(a, b, c, d));
        assert!(is_in_circle(a, b, c, [1, size - 1]));
        assert!(is_in_circle(a, b, c, [0, size - 1]));
        assert!(!is_in_circle(a, b, c, [-1, size]));
        assert!(!is_in_circle(a, b, c, [0, size + 1]));
    }

    #[test]
    fn three_points_in_line_do_not_turn() {
        assert_eq!(turn([0, 0], [1 << 28, 1 << 27], [1 << 29, 1 << 28]), 0);
        assert!(turn([0, 0], [1 << 28, 1 << 27], [1 << 29, (1 << 28) + 1]) > 0);
    }
}
