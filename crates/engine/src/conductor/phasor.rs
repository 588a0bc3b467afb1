//! A complex number, as used for alternating current and impedance. Bare numbers: volts, amperes or ohms by use.
//! Source: plain circuit theory.

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

    /// From size and angle in radians.
    pub(crate) fn polar(size: f64, angle: f64) -> Self {
        Self::new(size * angle.cos(), size * angle.sin())
    }

    pub(crate) fn size(self) -> f64 {
        self.re.hypot(self.im)
    }

    pub(crate) fn angle(self) -> f64 {
        self.im.atan2(self.re)
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
