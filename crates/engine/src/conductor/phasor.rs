//! A complex number, as used for alternating current and impedance. Bare numbers: volts, amperes or ohms by use.
//! Source: plain circuit theory. Angles are kept as directions, and only roots are taken: those are the same to the last bit on every machine and in
//! every browser, which sines and arcs are not.

use std::ops::{Add, Div, Mul, Neg, Sub};

/// Real and imaginary part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Phasor {
    pub(crate) re: f64,
    pub(crate) im: f64,
}

impl Phasor {
    pub(crate) const ZERO: Self = Self::new(0.0, 0.0);

    pub(crate) const fn new(re: f64, im: f64) -> Self {
        Self { re, im }
    }

    /// An impedance of this size, by the ratio of its reactance to its resistance, which is not negative.
    pub(crate) fn of_ratio(size: f64, ratio: f64) -> Self {
        // The smaller of the two over the larger cannot overflow.
        let small = ratio.min(1.0 / ratio);
        let large = 1.0 / (1.0 + small * small).sqrt();
        let (large, small) = (size * large, size * large * small);
        if ratio > 1.0 {
            Self::new(small, large)
        } else {
            Self::new(large, small)
        }
    }

    pub(crate) fn size(self) -> f64 {
        (self.re * self.re + self.im * self.im).sqrt()
    }

    /// The same direction with size one; along the real axis where there is none.
    pub(crate) fn direction(self) -> Self {
        match self.size() {
            0.0 => Self::new(1.0, 0.0),
            size => self / size,
        }
    }

    /// The part of this that lies along `other`.
    pub(crate) fn along(self, other: Self) -> f64 {
        (self.re * other.re + self.im * other.im) / other.size()
    }
}

impl Add for Phasor {
    type Output = Self;
    fn add(self, o: Self) -> Self {
        Self::new(self.re + o.re, self.im + o.im)
    }
}

impl Sub for Phasor {
    type Output = Self;
    fn sub(self, o: Self) -> Self {
        Self::new(self.re - o.re, self.im - o.im)
    }
}

impl Neg for Phasor {
    type Output = Self;
    fn neg(self) -> Self {
        Self::new(-self.re, -self.im)
    }
}

impl Mul for Phasor {
    type Output = Self;
    fn mul(self, o: Self) -> Self {
        Self::new(
            self.re * o.re - self.im * o.im,
            self.re * o.im + self.im * o.re,
        )
    }
}

impl Mul<f64> for Phasor {
    type Output = Self;
    fn mul(self, k: f64) -> Self {
        Self::new(self.re * k, self.im * k)
    }
}

impl Div<f64> for Phasor {
    type Output = Self;
    fn div(self, k: f64) -> Self {
        Self::new(self.re / k, self.im / k)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ratio_of_three_to_four_makes_five_and_the_ends_are_pure() {
        let check = |ratio: f64, re: f64, im: f64| {
            let z = Phasor::of_ratio(5.0, ratio);
            assert!(
                (z.re - re).abs() < 1e-12 && (z.im - im).abs() < 1e-12,
                "{z:?}"
            );
        };
        check(0.75, 4.0, 3.0);
        check(4.0 / 3.0, 3.0, 4.0);
        check(0.0, 5.0, 0.0);
        check(1e300, 0.0, 5.0);
        check(f64::INFINITY, 0.0, 5.0);
    }

    #[test]
    fn nothing_points_along_the_real_axis() {
        assert_eq!(Phasor::ZERO.direction(), Phasor::new(1.0, 0.0));
        assert_eq!(Phasor::new(0.0, -2.0).direction(), Phasor::new(0.0, -1.0));
    }
}
