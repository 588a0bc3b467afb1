//! Between which sums does the price lie while facts are unknown?
//! Source: every open verdict, judged again under the answers to the facts it misses. Exact over all combinations of answers.
//!
//! Verdicts that share no unknown fact, no breaker and no bill add up. Those that do are taken together: the fact that most of them miss is
//! answered each way in turn, and what is left falls apart again. So a fact has one answer everywhere, and nothing is tried twice.
//!
//! Answers of two facts are taken to be independent of one another, but for a circuit's added length, from which three facts follow. Where two
//! facts could not come together, the span is wider than it need be, never narrower. Numbers are answered below, at and above each threshold,
//! one whole unit apart, at nothing and beyond all; sets by every combination of the words that conditions tell apart.

use std::collections::BTreeMap;

use model::Job;
use model::id::CircuitId;
use model::scope::most_added;
use model::units::Inches;
use rulebook::requirement::{BoundRequirement, Verdict};
use rulebook::{Datum, FactDictionary, FactId, FactKind};
use shop::Count;

use super::Context;
use super::cost::Pricer;
use super::line::{Line, Lines, Name, What};
use super::wants::{self, Key, Want, Wish};
use crate::facts::{Bound, Place};
use crate::findings::is_open;

/// Most judgements of one job, before the rest is only bounded.
const MOST_JUDGEMENTS: usize = 400_000;
/// Most answers of one fact.
const MOST_ANSWERS: usize = 512;
/// Beyond every number that a rule names.
const BEYOND: f64 = 1e9;

/// Something nobody knows, and that the price hangs on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Unknown<'a> {
    /// A fact of the dictionary, of a thing.
    Fact(FactId, Place<'a>),
    /// What a circuit is lengthened by, between nothing and the whole way.
    Added(&'a CircuitId),
    /// Where the protection of a circuit sits: breaker or outlet.
    ProtectionAt(&'a CircuitId),
    /// Whether a circuit that nobody can name must be traced.
    Traced(&'a CircuitId),
}

/// An answer that was tried.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Answer {
    /// Value of a fact.
    Is(Datum),
    /// Length added.
    Added(Inches),
    /// In the breaker; or: it must be traced.
    So(bool),
}

/// Lines as far as they are known: sums of parts that do not touch, and choices by answers.
#[derive(Clone, Debug, PartialEq)]
pub enum Tree<'a> {
    /// These lines.
    Lines(Vec<Line<'a>>),
    /// All of these.
    All(Vec<Self>),
    /// One of these, by the answer.
    By(usize, Vec<(Answer, Self)>),
    /// Too many combinations: no less than the first, no more than the second.
    Between(Vec<Line<'a>>, Vec<Line<'a>>),
}

impl<'a> Tree<'a> {
    /// Takes out the lines that stand under every answer: they are certain.
    pub(super) fn take_certain(&mut self) -> Vec<Line<'a>> {
        match self {
            Self::Lines(lines) => std::mem::take(lines),
            Self::All(trees) => trees.iter_mut().flat_map(Self::take_certain).collect(),
            Self::Between(..) => Vec::new(),
            Self::By(_, branches) => {
                let Some((_, first)) = branches.first() else {
                    return Vec::new();
                };
                let mut common = first.certain();
                for (_, branch) in branches.iter().skip(1) {
                    let here = branch.certain();
                    common.retain(|line| here.contains(line));
                }
                for (_, branch) in branches {
                    branch.without(&common);
                }
                common
            }
        }
    }

    fn certain(&self) -> Vec<Line<'a>> {
        match self {
            Self::Lines(lines) => lines.clone(),
            Self::All(trees) => trees.iter().flat_map(Self::certain).collect(),
            Self::Between(..) => Vec::new(),
            Self::By(_, branches) => {
                let mut branches = branches.iter().map(|(_, tree)| tree.certain());
                let mut common = branches.next().unwrap_or_default();
                for here in branches {
                    common.retain(|line| here.contains(line));
                }
                common
            }
        }
    }

    /// Each line stands once in a tree: a key is counted in one place only.
    fn without(&mut self, common: &[Line<'a>]) {
        match self {
            Self::Lines(lines) => lines.retain(|line| !common.contains(line)),
            Self::All(trees) => trees.iter_mut().for_each(|tree| tree.without(common)),
            Self::Between(..) => {}
            Self::By(_, branches) => {
                for (_, branch) in branches {
                    branch.without(common);
                }
            }
        }
    }
}

/// What may or may not bite.
enum Sort<'a> {
    Always,
    Verdict(&'a BoundRequirement, usize),
    Added(&'a CircuitId, usize),
    IfSo(usize),
}

pub(super) struct Case<'a> {
    sort: Sort<'a>,
    wishes: Vec<Wish<'a>>,
    keys: Vec<Key<'a>>,
}

enum State {
    Out,
    In,
    Open(Vec<usize>),
}

/// The problem while it is solved.
pub(super) struct Solver<'s, 'a> {
    bound: Bound<'a>,
    facts: &'s FactDictionary,
    job: &'a Job,
    context: &'s Context<'a>,
    pricer: &'s Pricer<'a>,
    counted: &'s BTreeMap<(Name<'a>, What<'a>, Place<'a>), Count>,
    cases: Vec<Case<'a>>,
    pub(super) unknowns: Vec<Unknown<'a>>,
    numbers: BTreeMap<Unknown<'a>, usize>,
    answers: Vec<Option<Vec<Answer>>>,
    given: Vec<Option<Answer>>,
    lengths: [Option<FactId>; 4],
    judgements: usize,
    pub(super) exact: bool,
    /// What cannot be counted under some answer.
    pub(super) gaps: Lines<'a>,
}

impl<'s, 'a> Solver<'s, 'a> {
    pub(super) fn new(
        bound: &Bound<'a>,
        facts: &'s FactDictionary,
        context: &'s Context<'a>,
        pricer: &'s Pricer<'a>,
        counted: &'s BTreeMap<(Name<'a>, What<'a>, Place<'a>), Count>,
    ) -> Self {
        let length = |name| facts.find(name);
        Self {
            bound: bound.clone(),
            facts,
            job: context.job,
            context,
            pricer,
            counted,
            cases: Vec::new(),
            unknowns: Vec::new(),
            numbers: BTreeMap::new(),
            answers: Vec::new(),
            given: Vec::new(),
            lengths: [
                length("circuit.extended"),
                length("circuit.ext_outside_in"),
                length("circuit.ext_total_in"),
                length("circuit.shortened"),
            ],
            judgements: 0,
            exact: true,
            gaps: Lines::new(),
        }
    }

    pub(super) fn always(&mut self, wishes: Vec<Wish<'a>>) {
        self.add(Sort::Always, wishes);
    }

    pub(super) fn verdict(
        &mut self,
        requirement: &'a BoundRequirement,
        row: usize,
        wishes: Vec<Wish<'a>>,
    ) {
        self.add(Sort::Verdict(requirement, row), wishes);
    }

    /// A circuit of which only the slack is unknown.
    pub(super) fn added(&mut self, circuit: &'a CircuitId) {
        let wish = Wish {
            want: Want::Extension(circuit, Inches::ZERO),
            because: None,
        };
        let unknown = self.number(Unknown::Added(circuit));
        self.add(Sort::Added(circuit, unknown), vec![wish]);
    }

    /// A wish that stands or falls by a question of the price itself.
    pub(super) fn if_so(&mut self, unknown: Unknown<'a>, wish: Wish<'a>) {
        let unknown = self.number(unknown);
        self.add(Sort::IfSo(unknown), vec![wish]);
    }

    fn add(&mut self, sort: Sort<'a>, mut wishes: Vec<Wish<'a>>) {
        // What the work brings anyway can add nothing, and must not tie together what else has nothing in common.
        wishes.retain(|wish| {
            let mut alone = Lines::new();
            let bill = matches!(wish.want, Want::Bill(..) | Want::Option(..));
            if bill {
                let (pricer, context) = (self.pricer, self.context);
                wants::lines(&[wish], pricer, context, self.counted, &mut alone);
            }
            !bill || !alone.all.is_empty()
        });
        if wishes.is_empty() {
            return;
        }
        let mut keys: Vec<Key<'a>> = wishes.iter().map(|w| w.want.key()).collect();
        keys.sort();
        keys.dedup();
        self.cases.push(Case { sort, wishes, keys });
    }

    /// Solves all of it.
    pub(super) fn solve(&mut self) -> Tree<'a> {
        let all: Vec<usize> = (0..self.cases.len()).collect();
        self.build(&all)
    }

    fn build(&mut self, among: &[usize]) -> Tree<'a> {
        let mut left: Vec<(usize, Vec<usize>)> = Vec::new();
        for case in among {
            match self.state(*case) {
                State::Out => {}
                State::In => left.push((*case, Vec::new())),
                State::Open(missing) => left.push((*case, missing)),
            }
        }
        let mut trees = Vec::new();
        let mut plain = Vec::new();
        for group in self.groups(left) {
            let tree = self.group(group);
            match tree {
                Tree::Lines(lines) => plain.extend(lines),
                Tree::All(more) => trees.extend(more),
                other => trees.push(other),
            }
        }
        if trees.is_empty() {
            return Tree::Lines(plain);
        }
        if !plain.is_empty() {
            trees.push(Tree::Lines(plain));
        }
        match trees.pop() {
            Some(only) if trees.is_empty() => only,
            last => {
                trees.extend(last);
                Tree::All(trees)
            }
        }
    }

    /// Cases that touch, by unknown facts or by what they would count.
    fn groups(&self, left: Vec<(usize, Vec<usize>)>) -> Vec<Vec<(usize, Vec<usize>)>> {
        let mut root: Vec<usize> = (0..left.len()).collect();
        let mut by_unknown: BTreeMap<usize, usize> = BTreeMap::new();
        let mut by_key: BTreeMap<&Key<'a>, usize> = BTreeMap::new();
        for (i, (case, missing)) in left.iter().enumerate() {
            for unknown in missing {
                let first = *by_unknown.entry(*unknown).or_insert(i);
                join(&mut root, first, i);
            }
            for key in &self.cases[*case].keys {
                let first = *by_key.entry(key).or_insert(i);
                join(&mut root, first, i);
            }
        }
        let mut groups: BTreeMap<usize, Vec<(usize, Vec<usize>)>> = BTreeMap::new();
        for (i, one) in left.into_iter().enumerate() {
            groups.entry(find(&root, i)).or_default().push(one);
        }
        groups.into_values().collect()
    }

    fn group(&mut self, group: Vec<(usize, Vec<usize>)>) -> Tree<'a> {
        let mut misses: BTreeMap<usize, usize> = BTreeMap::new();
        for unknown in group.iter().flat_map(|(_, missing)| missing) {
            *misses.entry(*unknown).or_default() += 1;
        }
        let cases: Vec<usize> = group.iter().map(|(case, _)| *case).collect();
        let most = misses
            .iter()
            .max_by_key(|(unknown, n)| (**n, std::cmp::Reverse(**unknown)));
        let Some((pivot, _)) = most.map(|(u, n)| (*u, *n)) else {
            return Tree::Lines(self.lines_of(&cases));
        };
        let answers = match &self.answers[pivot] {
            Some(answers) => answers.clone(),
            None => self.answers_to(self.unknowns[pivot]),
        };
        self.answers[pivot] = Some(answers.clone());
        if self.judgements > MOST_JUDGEMENTS || answers.len() > MOST_ANSWERS {
            self.exact = false;
            let certain: Vec<usize> = group
                .iter()
                .filter(|(_, missing)| missing.is_empty())
                .map(|(case, _)| *case)
                .collect();
            return Tree::Between(self.lines_of(&certain), self.lines_of(&cases));
        }
        let mut branches: Vec<(Answer, Tree<'a>)> = Vec::new();
        for answer in answers {
            let undo = self.give(pivot, answer, &cases);
            let tree = self.build(&cases);
            self.take_back(pivot, undo);
            branches.push((answer, tree));
        }
        let same = branches.windows(2).all(|w| w[0].1 == w[1].1);
        match branches.pop() {
            Some((_, tree)) if same => tree,
            last => {
                branches.extend(last);
                Tree::By(pivot, branches)
            }
        }
    }

    fn lines_of(&mut self, cases: &[usize]) -> Vec<Line<'a>> {
        let mut out = Lines::new();
        let mut made: Vec<Wish<'a>> = Vec::new();
        for case in cases {
            let case = &self.cases[*case];
            match case.sort {
                Sort::Added(circuit, unknown) => {
                    let given = self.given.get(unknown).copied().flatten();
                    let length = match given {
                        Some(Answer::Added(length)) => length,
                        _ => most_added(self.job, circuit.as_str()).unwrap_or(Inches::ZERO),
                    };
                    made.push(Wish {
                        want: Want::Extension(circuit, length),
                        because: None,
                    });
                }
                _ => made.extend(case.wishes.iter().cloned()),
            }
        }
        let wishes: Vec<&Wish<'a>> = made.iter().collect();
        wants::lines(&wishes, self.pricer, self.context, self.counted, &mut out);
        for gap in out.gaps {
            self.gaps.gap(gap.what, gap.advice);
        }
        out.all
    }

    fn state(&mut self, case: usize) -> State {
        let known = |given: Option<Answer>, unknown| match given {
            None => State::Open(vec![unknown]),
            Some(Answer::So(false)) => State::Out,
            Some(Answer::Added(length)) if length.0 <= 0.0 => State::Out,
            Some(_) => State::In,
        };
        let (requirement, row) = match self.cases[case].sort {
            Sort::Always => return State::In,
            Sort::Added(_, unknown) | Sort::IfSo(unknown) => {
                return known(self.given[unknown], unknown);
            }
            Sort::Verdict(requirement, row) => (requirement, row),
        };
        self.judgements += 1;
        let judgement = requirement.judge(self.bound.slots(row));
        match judgement.verdict {
            Verdict::Required => State::In,
            verdict if is_open(verdict) => {
                let missing: Vec<FactId> = judgement.missing.iter().collect();
                let mut unknowns: Vec<usize> = missing
                    .into_iter()
                    .map(|fact| self.unknown(row, fact))
                    .collect();
                unknowns.sort_unstable();
                unknowns.dedup();
                State::Open(unknowns)
            }
            _ => State::Out,
        }
    }

    /// The unknown behind a missing fact.
    fn unknown(&mut self, row: usize, fact: FactId) -> usize {
        let owner = self.bound.owner(row, fact);
        if let Place::Circuit(circuit) = owner
            && self.lengths[..3].contains(&Some(fact))
            && let added = Unknown::Added(circuit)
            && (self.numbers.contains_key(&added)
                || most_added(self.job, circuit.as_str()).is_some())
        {
            return self.number(added);
        }
        self.number(Unknown::Fact(fact, owner))
    }

    fn number(&mut self, unknown: Unknown<'a>) -> usize {
        if let Some(number) = self.numbers.get(&unknown) {
            return *number;
        }
        let number = self.unknowns.len();
        self.numbers.insert(unknown, number);
        self.unknowns.push(unknown);
        self.given.push(None);
        self.answers.push(None);
        number
    }

    /// Every answer that could make a difference.
    fn answers_to(&self, unknown: Unknown<'a>) -> Vec<Answer> {
        let (fact, owner) = match unknown {
            Unknown::ProtectionAt(_) | Unknown::Traced(_) => {
                return vec![Answer::So(false), Answer::So(true)];
            }
            Unknown::Added(circuit) => return self.lengths_to_try(circuit),
            Unknown::Fact(fact, owner) => (fact, owner),
        };
        let Some(entry) = self.facts.get(fact) else {
            return Vec::new();
        };
        let data: Vec<Datum> = match entry.kind {
            FactKind::Bool => vec![Datum::Bool(false), Datum::Bool(true)],
            FactKind::Word => (0..entry.words.len() as u16).map(Datum::Word).collect(),
            FactKind::Set => self.sets_to_try(fact, owner),
            FactKind::Number => self.numbers_to_try(fact, owner),
        };
        data.into_iter().map(Answer::Is).collect()
    }

    /// Requirements that read the fact of this thing, with their rows.
    fn readers(
        &self,
        fact: FactId,
        owner: Place<'a>,
    ) -> impl Iterator<Item = (&'a BoundRequirement, usize)> {
        self.cases.iter().filter_map(move |case| match case.sort {
            Sort::Verdict(requirement, row)
                if requirement.facts().contains(fact) && self.bound.owner(row, fact) == owner =>
            {
                Some((requirement, row))
            }
            _ => None,
        })
    }

    /// Below, at and above each number that a rule holds the fact against, nothing, and beyond all.
    fn numbers_to_try(&self, fact: FactId, owner: Place<'a>) -> Vec<Datum> {
        let mut at = vec![0.0, BEYOND];
        for (requirement, row) in self.readers(fact, owner) {
            for n in held_against(requirement, self.bound.slots(row), fact) {
                at.extend([n - 1.0, n, n + 1.0]);
            }
        }
        // A total is never less than its known part outside.
        let least = match (self.lengths, owner) {
            ([_, Some(outside), Some(total), _], Place::Circuit(_)) if fact == total => {
                let row = self.bound.row_of(owner);
                row.and_then(|row| self.bound.value(row, outside))
                    .and_then(|(datum, _)| number_of(datum))
            }
            _ => None,
        };
        at.retain(|n| *n >= least.unwrap_or(0.0));
        at.extend(least);
        at.sort_by(f64::total_cmp);
        at.dedup();
        at.into_iter().map(Datum::Number).collect()
    }

    /// Every combination of words that conditions tell apart: words that stand in the same lists count as one.
    fn sets_to_try(&self, fact: FactId, owner: Place<'a>) -> Vec<Datum> {
        let mut masks: Vec<u64> = self
            .readers(fact, owner)
            .flat_map(|(requirement, _)| requirement.masks(fact))
            .collect();
        masks.sort_unstable();
        masks.dedup();
        let mut classes: BTreeMap<Vec<bool>, u64> = BTreeMap::new();
        for bit in (0..64).map(|i| 1_u64 << i) {
            let class: Vec<bool> = masks.iter().map(|mask| mask & bit != 0).collect();
            if class.contains(&true) {
                classes.entry(class).or_insert(bit);
            }
        }
        let words: Vec<u64> = classes.into_values().collect();
        // Beyond the limit the caller only bounds the sum.
        let most = words.len().min(10);
        (0..1_usize << most)
            .map(|chosen| {
                let bits = words.iter().enumerate();
                let bits = bits.filter(|(i, _)| chosen >> i & 1 == 1);
                Datum::Set(bits.fold(0, |all, (_, bit)| all | bit))
            })
            .collect()
    }

    /// Nothing, the whole way, and below, at and above each length that a rule names in between.
    fn lengths_to_try(&self, circuit: &'a CircuitId) -> Vec<Answer> {
        let most = most_added(self.job, circuit.as_str())
            .unwrap_or(Inches::ZERO)
            .0;
        let mut at = vec![0.0, most];
        let owner = Place::Circuit(circuit);
        for fact in self.lengths[1..3].iter().flatten() {
            for (requirement, row) in self.readers(*fact, owner) {
                for n in held_against(requirement, self.bound.slots(row), *fact) {
                    at.extend([n - 1.0, n, n + 1.0]);
                }
            }
        }
        at.retain(|n| (0.0..=most).contains(n));
        at.sort_by(f64::total_cmp);
        at.dedup();
        at.into_iter().map(|n| Answer::Added(Inches(n))).collect()
    }

    /// Writes an answer into the facts of every case that misses it.
    fn give(&mut self, unknown: usize, answer: Answer, cases: &[usize]) -> Vec<(usize, FactId)> {
        self.given[unknown] = Some(answer);
        let mut written = Vec::new();
        let facts: Vec<(FactId, Place<'a>, Datum)> = match (self.unknowns[unknown], answer) {
            (Unknown::Fact(fact, owner), Answer::Is(datum)) => vec![(fact, owner, datum)],
            (Unknown::Added(circuit), Answer::Added(length)) => {
                let [extended, outside, total, shortened] = self.lengths;
                let lengthened = length.0 > 0.0;
                let told = [
                    (extended, Some(Datum::Bool(lengthened))),
                    (outside, Some(Datum::Number(length.0))),
                    (total, Some(Datum::Number(length.0))),
                    (shortened, lengthened.then_some(Datum::Bool(false))),
                ];
                told.into_iter()
                    .filter_map(|(fact, datum)| Some((fact?, Place::Circuit(circuit), datum?)))
                    .collect()
            }
            _ => Vec::new(),
        };
        for (fact, owner, datum) in facts {
            for case in cases {
                let Sort::Verdict(_, row) = self.cases[*case].sort else {
                    continue;
                };
                if self.bound.owner(row, fact) != owner {
                    continue;
                }
                if let Some(slot) = self.bound.slots_mut(row).get_mut(fact.index())
                    && slot.is_none()
                {
                    *slot = Some(datum);
                    written.push((row, fact));
                }
            }
        }
        written
    }

    fn take_back(&mut self, unknown: usize, written: Vec<(usize, FactId)>) {
        self.given[unknown] = None;
        for (row, fact) in written {
            if let Some(slot) = self.bound.slots_mut(row).get_mut(fact.index()) {
                *slot = None;
            }
        }
    }
}

/// Numbers that a requirement holds a fact against: those it names for any of its numbers, and those that are known at the row.
fn held_against(requirement: &BoundRequirement, slots: &[Option<Datum>], fact: FactId) -> Vec<f64> {
    let mut all = requirement.thresholds(fact);
    for other in requirement.facts().iter().filter(|f| *f != fact) {
        match slots.get(other.index()).copied().flatten() {
            Some(datum) => all.extend(number_of(datum)),
            None => all.extend(requirement.thresholds(other)),
        }
    }
    all
}

fn number_of(datum: Datum) -> Option<f64> {
    match datum {
        Datum::Number(n) => Some(n),
        _ => None,
    }
}

fn find(root: &[usize], mut i: usize) -> usize {
    while root[i] != i {
        i = root[i];
    }
    i
}

fn join(root: &mut [usize], a: usize, b: usize) {
    let (a, b) = (find(root, a), find(root, b));
    if a != b {
        root[a.max(b)] = a.min(b);
    }
}
