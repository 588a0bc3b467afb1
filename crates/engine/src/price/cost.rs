//! What does a line cost the shop, and at which price does it go to the customer?
//! Order, as stated on the sheet: direct cost, then overhead, then contingency, then profit, then a tax charged to the customer.
//! US dollars; every amount of every line is rounded to the cent, halves away from zero, and totals are sums of lines.

use std::ops::{Add, AddAssign};

use model::{Dollars, Offer};
use serde::Serialize;
use shop::{Book, Count, Minutes, Missing, Rates, TaxOn};

use super::line::{Fee, Line, What};

/// A line's way from cost to price.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "LineCost")]
pub struct Cost {
    /// Time of one person.
    pub minutes: Minutes,
    /// Material at the shop's own price.
    pub material: Dollars,
    /// Tax that the shop pays on it.
    pub tax_paid: Dollars,
    /// Wage with its burden.
    pub labour: Dollars,
    /// Fees, passed on at cost: they carry no overhead, contingency or profit.
    pub fees: Dollars,
    /// Overhead by time.
    pub overhead: Dollars,
    /// Markup on material for fetching it and for what is lost.
    pub handling: Dollars,
    /// For what is uncertain.
    pub contingency: Dollars,
    /// Profit.
    pub profit: Dollars,
    /// Tax charged to the customer on material.
    pub tax_charged: Dollars,
}

impl Cost {
    /// What the shop pays out for it.
    #[must_use]
    pub fn direct(&self) -> Dollars {
        self.material + self.tax_paid + self.labour + self.fees
    }

    /// Direct cost, overhead and contingency: what profit is laid on, and the fees.
    #[must_use]
    pub fn before_profit(&self) -> Dollars {
        self.direct() + self.overhead + self.handling + self.contingency
    }

    /// What the customer pays.
    #[must_use]
    pub fn price(&self) -> Dollars {
        self.before_profit() + self.profit + self.tax_charged
    }
}

impl Add for Cost {
    type Output = Self;
    fn add(self, o: Self) -> Self {
        Self {
            minutes: self.minutes + o.minutes,
            material: self.material + o.material,
            tax_paid: self.tax_paid + o.tax_paid,
            labour: self.labour + o.labour,
            fees: self.fees + o.fees,
            overhead: self.overhead + o.overhead,
            handling: self.handling + o.handling,
            contingency: self.contingency + o.contingency,
            profit: self.profit + o.profit,
            tax_charged: self.tax_charged + o.tax_charged,
        }
    }
}

impl AddAssign for Cost {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl std::iter::Sum for Cost {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::default(), Add::add)
    }
}

/// A book with the settings of one job.
#[derive(Clone, Debug)]
pub struct Pricer<'b> {
    pub(crate) book: &'b Book,
    pub(crate) rates: Rates,
    hour: Dollars,
}

impl<'b> Pricer<'b> {
    /// The book with the offer's own settings. One that does not suit is left as the book has it; [`super::check_offer`] tells of it.
    #[must_use]
    pub fn new(book: &'b Book, offer: &Offer) -> Self {
        let mut rates = book.rates.clone();
        for (name, value) in &offer.settings {
            let _ = rates.set(name, &value.to_string());
        }
        Self {
            book,
            hour: rates.burdened(),
            rates,
        }
    }

    /// The rates in use.
    #[must_use]
    pub fn rates(&self) -> &Rates {
        &self.rates
    }

    /// Cost and price of one line.
    ///
    /// # Errors
    /// The book has no such part or item, or no price for it.
    pub fn cost(&self, line: &Line<'_>) -> Result<Cost, Missing> {
        self.cost_of(&line.what, line.count)
    }

    pub(crate) fn cost_of(&self, what: &What<'_>, count: Count) -> Result<Cost, Missing> {
        match what {
            What::Part(name) => Ok(self.material(count.at(self.book.parts.price(name)?))),
            What::Work(item) => {
                let minutes = self.book.labour.minutes(item)?.times(count);
                let more = Count::from_hundredths(100).and(self.rates.difficulty());
                Ok(self.work(minutes.times(more)))
            }
            What::Fee(fee) => {
                let each = match fee {
                    Fee::Permit => self.rates.permit_fee(),
                    Fee::Utility => self.rates.utility_fee(),
                };
                Ok(Cost {
                    fees: count.at(each),
                    ..Cost::default()
                })
            }
        }
    }

    fn material(&self, material: Dollars) -> Cost {
        let rates = &self.rates;
        let tax_paid = match rates.tax_on {
            TaxOn::Cost => rates.tax().of(material),
            TaxOn::None | TaxOn::Price => Dollars::ZERO,
        };
        let mut cost = Cost {
            material,
            tax_paid,
            handling: rates.material_markup().of(material),
            ..Cost::default()
        };
        self.finish(&mut cost);
        if rates.tax_on == TaxOn::Price {
            cost.tax_charged = rates.tax().of(cost.price());
        }
        cost
    }

    fn work(&self, minutes: Minutes) -> Cost {
        let mut cost = Cost {
            minutes,
            labour: minutes.at(self.hour),
            overhead: minutes.at(self.rates.overhead()),
            ..Cost::default()
        };
        self.finish(&mut cost);
        cost
    }

    fn finish(&self, cost: &mut Cost) {
        cost.contingency = self.rates.contingency().of(cost.before_profit());
        cost.profit = self.rates.margin().of_price(cost.before_profit());
    }
}
