//! A rigid body on many point springs: its stiffness matrix of six freedoms, summed and solved
//! numerically. Carriages are compared with it.

/// A direction, and a point in metres.
pub(crate) type Vector = [f64; 3];

/// The cross product.
pub(crate) fn cross(a: Vector, b: Vector) -> Vector {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

/// How a rigid body moves along a direction at a point: three shifts and three turns.
fn wrench(at: Vector, along: Vector) -> [f64; 6] {
    let [a, b, c] = cross(at, along);
    [along[0], along[1], along[2], a, b, c]
}

/// Solves six linear equations by elimination with pivots.
fn solved(mut k: [[f64; 6]; 6], mut f: [f64; 6]) -> [f64; 6] {
    for column in 0..6 {
        let rest = column..6;
        let pivot = rest
            .max_by(|a, b| k[*a][column].abs().total_cmp(&k[*b][column].abs()))
            .expect("a row");
        k.swap(column, pivot);
        f.swap(column, pivot);
        for row in 0..6 {
            if row != column {
                let share = k[row][column] / k[column][column];
                let above = k[column];
                for (cell, above) in k[row].iter_mut().zip(above) {
                    *cell -= share * above;
                }
                f[row] -= share * f[column];
            }
        }
    }
    std::array::from_fn(|row| f[row] / k[row][row])
}

/// A group of blocks on parallel rails: each block a bed of point springs over its bearing
/// length, in two rows half a rail's foot from its middle, resisting alike along the normal
/// and sideways. Along the rails a stiff drive holds it.
pub(crate) struct Group {
    pub(crate) rail: Vector,
    pub(crate) side: Vector,
    pub(crate) normal: Vector,
    pub(crate) span: f64,
    pub(crate) gap: f64,
    pub(crate) on_a_rail: usize,
    pub(crate) bearing: f64,
    pub(crate) half_foot: f64,
    pub(crate) each: f64,
}

impl Group {
    /// What a point of the body gives along a direction for each newton there.
    pub(crate) fn gives(&self, at: Vector, along: Vector) -> f64 {
        const POINTS: usize = 150;
        let mut k = [[0.0; 6]; 6];
        let mut add = |spring: f64, w: [f64; 6]| {
            for (row, a) in k.iter_mut().zip(w) {
                for (cell, b) in row.iter_mut().zip(w) {
                    *cell += spring * a * b;
                }
            }
        };
        let places: &[f64] = if self.on_a_rail == 1 {
            &[0.0]
        } else {
            &[-0.5, 0.5]
        };
        for rail in [-0.5, 0.5] {
            for block in places {
                for point in 0..POINTS {
                    let off = (point as f64 + 0.5) / POINTS as f64 - 0.5;
                    let along = block * self.span + off * self.bearing;
                    let place = |foot: f64| -> Vector {
                        let side = rail * self.gap + foot * self.half_foot;
                        std::array::from_fn(|i| self.rail[i] * along + self.side[i] * side)
                    };
                    let one = self.each / POINTS as f64;
                    for foot in [-1.0, 1.0] {
                        add(one / 2.0, wrench(place(foot), self.normal));
                    }
                    add(one, wrench(place(0.0), self.side));
                }
            }
        }
        add(1e15, wrench([0.0; 3], self.rail));
        let force = wrench(at, along);
        let moved = solved(k, force);
        force.iter().zip(moved).map(|(f, m)| f * m).sum()
    }
}

pub(crate) const X: Vector = [1.0, 0.0, 0.0];
pub(crate) const Y: Vector = [0.0, 1.0, 0.0];
pub(crate) const Z: Vector = [0.0, 0.0, 1.0];
