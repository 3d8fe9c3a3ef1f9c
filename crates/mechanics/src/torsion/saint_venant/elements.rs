//! Integrals over one triangle of second order.

use super::mesh::Mesh;

/// A point of integration in an element.
pub(super) struct Sample {
    /// Its share of the area.
    pub(super) weight: f64,
    pub(super) place: [f64; 2],
    /// The six shape functions,
    pub(super) shape: [f64; 6],
    /// and their slopes in x and y.
    pub(super) slope: [[f64; 2]; 6],
}

/// Points and weights that integrate a polynomial of fourth order over a triangle exactly
/// (Strang & Fix 1973; Dunavant 1985, Int. J. Numer. Methods Eng. 21, degree 4).
const POINTS: [(f64, f64); 6] = {
    const A: f64 = 0.445_948_490_915_965;
    const B: f64 = 0.091_576_213_509_771;
    [
        (A, A),
        (1.0 - 2.0 * A, A),
        (A, 1.0 - 2.0 * A),
        (B, B),
        (1.0 - 2.0 * B, B),
        (B, 1.0 - 2.0 * B),
    ]
};
const WEIGHTS: [f64; 6] = {
    const A: f64 = 0.223_381_589_678_011;
    const B: f64 = 0.109_951_743_655_322;
    [A, A, A, B, B, B]
};

/// The points of integration of an element; `None` if it is folded over.
pub(super) fn samples(mesh: &Mesh, element: &[usize; 6]) -> Option<[Sample; 6]> {
    let nodes = element.map(|node| mesh.nodes[node]);
    let mut sound = true;
    let samples = std::array::from_fn(|index| {
        let (u, v) = POINTS[index];
        let w = 1.0 - u - v;
        let shape = [
            w * (2.0 * w - 1.0),
            u * (2.0 * u - 1.0),
            v * (2.0 * v - 1.0),
            4.0 * w * u,
            4.0 * u * v,
            4.0 * v * w,
        ];
        // With respect to u and v.
        let local = [
            [1.0 - 4.0 * w, 1.0 - 4.0 * w],
            [4.0 * u - 1.0, 0.0],
            [0.0, 4.0 * v - 1.0],
            [4.0 * (w - u), -4.0 * u],
            [4.0 * v, 4.0 * u],
            [-4.0 * v, 4.0 * (w - v)],
        ];
        let mut place = [0.0; 2];
        let mut jacobian = [[0.0; 2]; 2];
        for (node, (value, slope)) in nodes.iter().zip(shape.iter().zip(&local)) {
            for axis in 0..2 {
                place[axis] += value * node[axis];
                jacobian[0][axis] += slope[0] * node[axis];
                jacobian[1][axis] += slope[1] * node[axis];
            }
        }
        let determinant = jacobian[0][0] * jacobian[1][1] - jacobian[0][1] * jacobian[1][0];
        sound &= determinant > 0.0;
        let slope = local.map(|own| {
            [
                (jacobian[1][1] * own[0] - jacobian[0][1] * own[1]) / determinant,
                (jacobian[0][0] * own[1] - jacobian[1][0] * own[0]) / determinant,
            ]
        });
        Sample {
            weight: WEIGHTS[index] / 2.0 * determinant,
            place,
            shape,
            slope,
        }
    });
    sound.then_some(samples)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A triangle with one curved side, against ∬ 1, x, y² by hand: 0 ≤ x, 0 ≤ y and below the
    /// parabola y = 1 − x + 0.4·x(1 − x).
    #[test]
    fn a_curved_triangle_is_integrated() {
        let mesh = Mesh {
            nodes: vec![
                [0.0, 0.0],
                [1.0, 0.0],
                [0.0, 1.0],
                [0.5, 0.0],
                [0.5, 0.6],
                [0.0, 0.5],
            ],
            elements: vec![[0, 1, 2, 3, 4, 5]],
            on_loop: vec![None; 6],
            loop_areas: Vec::new(),
            loops_outside: 1,
            misfit: 0.0,
        };
        let samples = samples(&mesh, &mesh.elements[0]).unwrap();
        let sum =
            |f: fn(&Sample) -> f64| -> f64 { samples.iter().map(|own| own.weight * f(own)).sum() };
        assert!((sum(|_| 1.0) - (0.5 + 0.4 / 6.0)).abs() < 1e-12);
        assert!((sum(|own| own.place[0]) - (1.0 / 6.0 + 0.4 / 12.0)).abs() < 1e-12);
        for own in &samples {
            assert!((own.shape.iter().sum::<f64>() - 1.0).abs() < 1e-12);
            let x: f64 = own
                .slope
                .iter()
                .zip(&mesh.nodes)
                .map(|(slope, node)| slope[0] * node[0])
                .sum();
            assert!((x - 1.0).abs() < 1e-12);
        }
    }
}
