//! How long does each step take, and how is time counted? In whole seconds, so that sums are exact and orders compare without rounding.
//! Source: the shop's labour table; the shares taken from its items are our own and say so.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Sub};

use model::units::Hours;

/// A span of time, or a moment counted from the crew's arrival, nights included.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Seconds(pub u64);

impl Seconds {
    /// None.
    pub const ZERO: Self = Self(0);
    /// From one arrival to that of the next day.
    pub const DAY: Self = Self(86_400);

    /// The nearest whole second; below zero is zero, above 2,000 hours is held there.
    #[must_use]
    pub fn of(hours: Hours) -> Self {
        let seconds = (hours.0 * 3600.0).round();
        if seconds.is_finite() {
            Self(seconds.clamp(0.0, 7_200_000.0) as u64)
        } else {
            Self::ZERO
        }
    }

    /// The same in hours.
    #[must_use]
    pub fn hours(self) -> Hours {
        Hours(self.0 as f64 / 3600.0)
    }

    /// Nearest minute.
    #[must_use]
    pub const fn minutes(self) -> u64 {
        (self.0 + 30) / 60
    }
}

impl fmt::Display for Seconds {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (hours, minutes) = (self.minutes() / 60, self.minutes() % 60);
        f.pad(&match (hours, minutes) {
            (0, minutes) => format!("{minutes} min"),
            (hours, 0) => format!("{hours} h"),
            (hours, minutes) => format!("{hours} h {minutes:02} min"),
        })
    }
}

impl Add for Seconds {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl Sub for Seconds {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

impl AddAssign for Seconds {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl Mul<u64> for Seconds {
    type Output = Self;
    fn mul(self, count: u64) -> Self {
        Self(self.0.saturating_mul(count))
    }
}

impl Sum for Seconds {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::ZERO, Add::add)
    }
}

macro_rules! times {
    ($($(#[$doc:meta])* $name:ident $item:literal;)*) => {
        /// Time of one person for one of each thing, by the shop's labour table.
        #[derive(Clone, Debug, Default, PartialEq, Eq)]
        pub struct Times {$( $(#[$doc])* pub $name: Seconds, )*}

        impl Times {
            /// Reads every item.
            ///
            /// # Errors
            /// The first item that the table does not have.
            pub fn of(labour: &shop::Labour) -> Result<Self, shop::Missing> {
                Ok(Self {$( $name: Seconds::of(labour.minutes($item)?.hours()), )*})
            }
        }

        /// The items of the labour table that a cut-over counts.
        pub const ITEMS: &[&str] = &[$($item),*];
    };
}

times! {
    /// Arrive and set up.
    setup "travel-and-setup";
    /// Photograph and tag one circuit with its old place.
    tag "tag-circuit";
    /// Note the legs of one shared-neutral set.
    legs "note-shared-neutral";
    /// Lock out one board and test it dead, six readings.
    lock_out "test-dead";
    /// Lock off one circuit at its breaker and test it dead.
    lock_circuit "lock-one-circuit";
    /// Take an old panel down.
    demount "demount-panel";
    /// Mount a panel.
    mount "mount-panel";
    /// New interior in the old cabinet.
    interior "interior-swap";
    /// Empty an old cabinet and make a splice box of it.
    splice_box "old-cabinet-splice-box";
    /// Take an old cabinet out.
    remove_cabinet "remove-old-cabinet";
    /// Land one end of a feeder.
    feeder "land-feeder";
    /// Land a feeder on its device in the supplying board.
    supply_end "feeder-supply-end";
    /// Land one circuit.
    reland "reland-circuit";
    /// Lengthen one circuit, run and join together.
    extend "extend-circuit";
    /// The part of lengthening that needs the circuit dead.
    join "join-extension";
    /// One set of splices.
    splice_set "splice-set";
    /// Extra for an arc-fault or ground-fault breaker.
    arc_fault "arc-fault-device";
    /// Extra for a two-pole device.
    two_pole "two-pole";
    /// Torque, mark and record one termination.
    torque "torque-termination";
    /// Dead tests of one circuit.
    dead_test "dead-test-circuit";
    /// Short check at the bus with all breakers off, cover test-fitted.
    shorts "short-check";
    /// Energize with all branches off and prove the voltages.
    prove "prove-energized";
    /// All live checks of one board together.
    checks "energize-and-check";
    /// Switch one circuit on and see that it runs.
    restore "restore-circuit";
    /// Directory of one board.
    directory "directory";
    /// Clean up.
    clean_up "clean-up";
    /// Set up temporary power for one circuit's loads.
    temporary "temporary-power-circuit";
    /// Change one circuit's loads over to temporary power, or back.
    change_over "temporary-change-over";
}
