//! Which of these poles goes in which of these spaces, so that the costs come to least?
//! Source: the assignment problem by shortest augmenting paths (any textbook of combinatorial optimisation). Whole numbers.

use super::super::legs::NEVER;

/// The least cost and the place of each row, when each of them can have one; `cost(row, place)` is [`NEVER`] where it may not be.
pub(super) fn assigned(
    rows: usize,
    places: usize,
    cost: impl Fn(usize, usize) -> i64,
) -> Option<(i64, Vec<usize>)> {
    if rows > places {
        return None;
    }
    // Row and place 0 are there for the sake of the method alone.
    let (mut of_row, mut of_place) = (vec![0i64; rows + 1], vec![0i64; places + 1]);
    let mut owner = vec![0usize; places + 1];
    for row in 1..=rows {
        owner[0] = row;
        let mut at = 0;
        let mut least = vec![i64::MAX; places + 1];
        let mut from = vec![0usize; places + 1];
        let mut seen = vec![false; places + 1];
        while owner[at] != 0 {
            seen[at] = true;
            let here = owner[at];
            let (mut step, mut next) = (i64::MAX, 0);
            for place in 1..=places {
                if seen[place] {
                    continue;
                }
                let cost = cost(here - 1, place - 1);
                if cost < NEVER {
                    let over = cost - of_row[here] - of_place[place];
                    if over < least[place] {
                        (least[place], from[place]) = (over, at);
                    }
                }
                if least[place] < step {
                    (step, next) = (least[place], place);
                }
            }
            if step == i64::MAX {
                return None;
            }
            for place in 0..=places {
                if seen[place] {
                    of_row[owner[place]] += step;
                    of_place[place] -= step;
                } else if least[place] < i64::MAX {
                    least[place] -= step;
                }
            }
            at = next;
        }
        while at != 0 {
            owner[at] = owner[from[at]];
            at = from[at];
        }
    }
    let mut seat = vec![0; rows];
    for (place, row) in owner.iter().enumerate().skip(1) {
        if let Some(row) = row.checked_sub(1) {
            seat[row] = place - 1;
        }
    }
    let all = seat.iter().enumerate().map(|(r, p)| cost(r, *p)).sum();
    Some((all, seat))
}
