//! What is counted, in the Prometheus text format (version 0.0.4). Seconds are seconds of the wall clock.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Mutex, PoisonError};
use std::time::Duration;

/// Upper ends of the latency buckets, in seconds.
const BUCKETS: [f64; 9] = [0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.5, 2.5];

#[derive(Default)]
struct Latency {
    /// Requests up to each end; the last for all above.
    buckets: [u64; BUCKETS.len() + 1],
    seconds: f64,
    /// Requests by status.
    statuses: BTreeMap<u16, u64>,
}

/// Everything that is counted since the start.
#[derive(Default)]
pub(crate) struct Metrics {
    routes: Mutex<BTreeMap<(String, String), Latency>>,
    saves: AtomicU64,
    conflicts: AtomicU64,
}

impl Metrics {
    /// A request was answered.
    pub(crate) fn answered(&self, method: &str, route: &str, status: u16, took: Duration) {
        let mut routes = self.routes.lock().unwrap_or_else(PoisonError::into_inner);
        let latency = routes
            .entry((method.to_owned(), route.to_owned()))
            .or_default();
        let seconds = took.as_secs_f64();
        let bucket = BUCKETS
            .iter()
            .position(|end| seconds <= *end)
            .unwrap_or(BUCKETS.len());
        latency.buckets[bucket] += 1;
        latency.seconds += seconds;
        *latency.statuses.entry(status).or_default() += 1;
    }

    /// A change was saved.
    pub(crate) fn saved(&self) {
        self.saves.fetch_add(1, Ordering::Relaxed);
    }

    /// A change was refused because another came first.
    pub(crate) fn conflicted(&self) {
        self.conflicts.fetch_add(1, Ordering::Relaxed);
    }

    /// The page.
    pub(crate) fn text(&self) -> String {
        let mut out = String::new();
        let saves = self.saves.load(Ordering::Relaxed);
        let conflicts = self.conflicts.load(Ordering::Relaxed);
        for (name, help, value) in [
            ("lugwright_saves_total", "Changes of jobs saved.", saves),
            (
                "lugwright_conflicts_total",
                "Changes refused because another came first.",
                conflicts,
            ),
        ] {
            let _ = writeln!(
                out,
                "# HELP {name} {help}\n# TYPE {name} counter\n{name} {value}"
            );
        }
        let routes = self.routes.lock().unwrap_or_else(PoisonError::into_inner);
        let name = "lugwright_requests_total";
        let _ = writeln!(
            out,
            "# HELP {name} Requests answered.\n# TYPE {name} counter"
        );
        for ((method, route), latency) in routes.iter() {
            for (status, count) in &latency.statuses {
                let _ = writeln!(
                    out,
                    "{name}{{method=\"{method}\",route=\"{route}\",status=\"{status}\"}} {count}"
                );
            }
        }
        let name = "lugwright_request_seconds";
        let _ = writeln!(
            out,
            "# HELP {name} Time to answer.\n# TYPE {name} histogram"
        );
        for ((method, route), latency) in routes.iter() {
            let labels = format!("method=\"{method}\",route=\"{route}\"");
            let mut so_far = 0;
            for (count, end) in latency.buckets.iter().zip(BUCKETS) {
                so_far += count;
                let _ = writeln!(out, "{name}_bucket{{{labels},le=\"{end}\"}} {so_far}");
            }
            let all: u64 = latency.buckets.iter().sum();
            let _ = writeln!(out, "{name}_bucket{{{labels},le=\"+Inf\"}} {all}");
            let _ = writeln!(out, "{name}_sum{{{labels}}} {}", latency.seconds);
            let _ = writeln!(out, "{name}_count{{{labels}}} {all}");
        }
        out
    }
}
