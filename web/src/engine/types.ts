// Generated from the types of the engine; do not edit. `cargo run -p lugwright-answers --example types` writes it anew.
/* eslint-disable */

/** An answer; its `command` tells to which question. */
export type Answer = CheckAnswer | FaceAnswer | MoveAnswer | CutoverAnswer | PriceAnswer | ReadAnswer | EditAnswer | StartAnswer | PasteAnswer | BoardAnswer | LayoutAnswer | ErrorAnswer;

/** An answer about a job: what every answer begins with, then what was asked. */
export interface AboutJobAnswer {
  /** Number of the form, 1. */
  format: number;
  /** One line for lists and papers, as the job file has it. */
  title: string;
  /** Why the customer called. */
  reason: string;
  /** Where, and under which code. */
  place: Place;
  /** The edition the job was looked at under. */
  edition: Edition;
  /** Amendments that were handed in, and whether they bind. */
  amendments: AmendmentStands[];
  /** Sentences a reader must see first. */
  notices: string[];
  /** What a reader must heed: one sentence each. */
  cautions: [string, string, string, string];
}

/** An answer about a job: what every answer begins with, then what was asked. */
export interface CheckAnswer extends AboutJobAnswer {
  /** The command that was asked. */
  command: 'check';
  status: Status;
  /** Findings, counted by place. */
  required_and_missing: number;
  /** Calculations that fail whatever the unknown facts are. */
  calculations_that_fail: number;
  /** What the work is. */
  scope: ScopeOfWork;
  /** Who feeds whom. */
  supply: Supply;
  /** Load on each board, from the utility outwards. */
  load: LoadOfBoard[];
  /** What conductors are held to. */
  conductors: Conductors;
  /** Fault current at each board. */
  fault_current: FaultAtBoard[];
  /** Stated facts that the pictures contradict. */
  disagreements: Disagreement[];
  /** What is required, met, or cannot be told. */
  findings: Findings;
  /** What to find out, the weightiest first. */
  questions: OpenQuestion[];
  /** Every worksheet. */
  worksheets: Worksheet[];
}

/** Address-level facts: state, authority, edition in force. */
export interface Place {
  /** Two-letter state code. */
  state: string;
  /** Street address, for papers. */
  address: string;
  /** Who the customer is, for the offer and the hand-over; never on a directory. */
  customer: string;
  /** City or county. */
  city: string;
  /** Authority having jurisdiction, as it calls itself. */
  authority: string;
  /** Edition adopted at the address. There is no default. */
  edition: Edition;
  /** Date of the permit application, which commonly fixes edition and amendments. */
  permit_date: string | null;
  /** Number of the permit, once there is one. */
  permit_number: string;
  /** Names of amendment files that apply here. */
  amendments: string[];
  /** Electric utility. */
  utility: string;
  /** Facts about the job and its place by their full dictionary name, for example `job.ahj_measures_outside_only`. */
  facts: { [name: string]: FactStated };
}

/** An edition of NFPA 70. Ordered by year. */
export type Edition = '2014' | '2017' | '2020' | '2023' | '2026';

export type FactStated = Stated | 'unknown' | {
  is: Stated;
  by?: Said;
};

/** A value of a dictionary fact. */
export type Stated = boolean | number | string | string[];

/** Who or what stands behind a known fact. */
export type Said = 'seen' | 'measured' | 'label' | 'customer' | 'utility' | 'authority' | 'planned' | 'assumed' | 'derived';

/** An amendment by title, and whether it binds. */
export type AmendmentStands = {
  /** Title of the amendment. */
  title: string;
} & ({
  standing: 'in_force';
} | {
  standing: 'other_edition';
} | {
  standing: 'not_yet';
  /** First day it is in force. */
  from: string;
} | {
  standing: 'over';
  /** Last day it was in force. */
  to: string;
} | {
  standing: 'date_unknown';
});

/** The end of a check, in a word. */
export type Status = 'nothing_missing' | 'something_missing';

/** The difference of the two pictures: everything of either, changed or kept. */
export interface ScopeOfWork {
  /** Boards. */
  boards: BoardInScope[];
  /** Feeders. */
  feeders: FeederInScope[];
  /** Circuits. */
  circuits: CircuitInScope[];
  /** Loads that are new. */
  loads_added: LoadId[];
  /** Loads that go. */
  loads_removed: LoadId[];
  /** Sources that are new. */
  sources_added: SourceId[];
}

/** What happens to a board. */
export interface BoardInScope {
  id: BoardId;
  change: ScopeChange;
  /** It moves to another place. */
  relocated: boolean;
  /** Only the interior is new. */
  interior_only: boolean;
}

/** A panelboard, disconnect or other board. */
export type BoardId = string;

/** Added, changed, kept or taken out. */
export type ScopeChange = 'kept' | 'replaced' | 'new' | 'removed';

/** What happens to a feeder. */
export interface FeederInScope {
  id: FeederId;
  change: ScopeChange;
}

/** A feeder, or the service conductors. */
export type FeederId = string;

/** What happens to a circuit. `null` where nobody can tell. */
export interface CircuitInScope {
  id: CircuitId;
  change: ScopeChange;
  /** It starts in another board than before. */
  other_board: boolean;
  /** Its conductors are lengthened. */
  extended: boolean | null;
  /** Length added outside enclosures, inches. */
  added_outside_in: number | null;
  /** Length added in all, inches. */
  added_total_in: number | null;
  /** It is only cut shorter. */
  cut_shorter: boolean | null;
}

/** A branch circuit. */
export type CircuitId = string;

/** A load. */
export type LoadId = string;

/** A source besides the utility. */
export type SourceId = string;

/** The supply as it will stand. */
export interface Supply {
  /** From the utility outwards. */
  boards: BoardInSupply[];
  /** What is wrong with it, in words. */
  problems: string[];
}

/** A board's place in the supply. */
export interface BoardInSupply {
  board: string;
  /** The board that feeds it; `null` at the utility. */
  fed_from: string | null;
  /** The feeder that does. */
  feeder: string | null;
  /** Feeders between it and the utility's own, 0 at the service. */
  depth: number;
  role: BoardRole;
  /** It and the boards below it carry every branch circuit of the dwelling; `null` when nobody can tell. */
  carries_entire_dwelling: boolean | null;
  /** Rating of the device that protects its bus, amperes. */
  protected_by_a: number | null;
}

/** Place of a board in the supply. */
export type BoardRole = 'service' | 'feeder_fed' | 'unfed';

/** The load on a board; the worksheets stand apart. */
export interface LoadOfBoard {
  board: string;
  /** The method to build on. */
  recommended: LoadMethod;
  /** Why that one. */
  why: string;
  /** What holds it: the device that protects its bus, and the device of its feeder where that is smaller. */
  held_to_a: number | null;
  /** Whether that is enough for the load by the recommended method. */
  fits: CheckVerdict;
  /** Single changes that make it fit where it does not, each tried by the same calculation; none when it fits. */
  remedies: LoadRemedy[];
  /** Every method that was run. */
  methods: LoadByMethod[];
  /** Readings that were taken where a sentence can be read in two ways. */
  readings: string[];
  /** What was taken where the survey left a gap. */
  taken: string[];
}

/** The methods of calculation. */
export type LoadMethod = 'standard' | 'optional' | 'existing' | 'measured' | 'multifamily' | 'two_family' | 'managed';

/** The answer to "is it enough?". */
export type CheckVerdict = 'pass' | 'fail' | 'cannot_tell';

/** A change that makes the load fit, and what it comes to. */
export interface LoadRemedy {
  change: LoadChange;
  text: string;
  /** What it comes to. */
  comes_to: LoadComesTo;
  /** What has to be seen to beside it. */
  notes: string[];
  /** Sections it rests on. */
  cites: Cite[];
  /** How far what it rests on was checked. */
  check: CheckStatus;
  /** Other boards whose load does not fit even so. */
  still_over: string[];
  /** Calculations that end otherwise with it. */
  verdicts: TurnedVerdict[];
  /** What makes the change in the picture after the work; none where it is no matter of a field. */
  edits: Edit[];
}

/** One change that makes the load of a board fit. */
export type LoadChange = {
  other_method: LoadMethod;
} | {
  setting: {
    /** The charger. */
    load: LoadId;
    /** Setting of one. */
    amperes: number;
  };
} | {
  left_out: {
    /** The loads. */
    loads: LoadId[];
  };
} | {
  larger_rating: NewRating;
};

/** A larger rating, with what has to go with it. */
export interface NewRating {
  /** The rating. */
  rating: number;
  /** The main breaker of the board gets it. */
  main: boolean;
  /** The device at the supply end of its feeder gets it. */
  device: boolean;
  /** The bus of the planned board gets it. */
  bus: number | null;
  /** The board stays, and its bus is rated less: another board, which is no matter of a field. */
  another_board: boolean;
  /** What feeds the board. */
  feeder: string | null;
  /** Legs of that, where those planned are not enough. */
  legs: string | null;
  /** Its neutral likewise. */
  neutral: string | null;
  /** Its equipment ground likewise. */
  ground: string | null;
}

/** The load of a board as it stands, and with the change. */
export interface LoadComesTo {
  /** Method it is then built on. */
  method: LoadMethod;
  /** Load as planned, in whole amperes. */
  load_now_a: number;
  /** What holds it as planned. */
  held_to_now_a: number;
  /** Load with the change, in whole amperes. */
  load_a: number;
  /** What holds it with the change. */
  held_to_a: number;
}

/** A section or table of one edition, for example `NFPA 70-2023 220.45`, and how far the number was checked. */
export interface Cite {
  /** The edition the section number belongs to. */
  edition: Edition;
  /** Section or table as the edition numbers it, for example `Table 310.16`. Shared, so that a copy is cheap. */
  section: string;
  /** How far the number itself was checked. */
  check: CheckStatus;
}

/** How far a value was checked. Ordered from weakest to strongest, so that the least of several is their `min`. */
export type CheckStatus = 'not found' | 'memory' | '1 source' | '2+ sources' | 'arithmetic';

/** A calculation that ends otherwise with a change. */
export interface TurnedVerdict {
  /** What is judged, in words. */
  what: string;
  /** As planned; `null` where it is not made. */
  now: CheckVerdict | null;
  /** With the change; `null` where it is no longer made. */
  then: CheckVerdict | null;
}

/** One change. */
export type Edit = {
  /** Path of the job file, for example `["before", "circuits", "fridge", "amps"]`. Places in lists count from 0. */
  at: string[];
  /** The value: bare, `{ is, by }`, or `"unknown"`. */
  to: unknown;
} | {
  /** Path of the thing. */
  at: string[];
  /** Its new name. */
  rename: string;
} | {
  /** Path of the thing. */
  at: string[];
  /** Name of the second. */
  copy: string;
} | {
  /** Path of the board. */
  at: string[];
  /** The place. */
  place: PlaceOnWall;
};

/** A place for a panel. */
export interface PlaceOnWall {
  /** The wall. */
  wall: string;
  /** Left edge of the cabinet from the wall's left end, inches. */
  x: number;
  /** What becomes of the old cabinet. */
  way: PanelWay;
}

/** What becomes of the old cabinet. */
export type PanelWay = 'splice_box' | 'removed' | 'in_place';

/** What one method comes to. */
export interface LoadByMethod {
  method: LoadMethod;
  /** Whether it may be used here. */
  standing: MethodStanding;
  /** Calculated load. */
  demand_va: LeastValue;
  /** The same as current, not yet rounded. */
  amperes: LeastValue;
  /** In whole amperes. */
  rounded_a: LeastValue;
  /** Neutral load, not yet rounded. */
  neutral_a: LeastValue;
  /** Smallest standard rating. */
  rating_a: LeastValue;
  /** Weakest check status of all steps. */
  check: CheckStatus;
  /** Id of its worksheet. */
  worksheet: string;
}

/** Whether the method may be used here. */
export type MethodStanding = {
  standing: 'applies';
} | {
  standing: 'does_not_apply';
  because: string[];
} | {
  standing: 'cannot_tell';
  because: string[];
};

/** A number, or the least it can be while something is missing. */
export interface LeastValue {
  value: number;
  /** It is the number, and not merely the least it can be. */
  exact: boolean;
  /** What is missing, in words. */
  missing: string[];
}

/** What conductors are held to; the worksheets stand apart. */
export interface Conductors {
  feeders: FeederResult[];
  /** Calculations that belong to no feeder and no circuit. */
  others: OtherResult[];
  circuits: CircuitResult[];
}

/** A feeder or the service conductors. */
export interface FeederResult {
  feeder: string;
  /** The board it feeds. */
  board: string;
  /** It carries its load and its device protects it. */
  verdict: CheckVerdict;
  carries_load: CheckVerdict;
  protected: CheckVerdict;
  /** The dwelling rule may be used. */
  dwelling_rule: CheckVerdict;
  ampacity_a: FoundAmperes;
  /** Ampacity that load and device ask for. */
  needed_a: number | null;
  /** Largest device without the dwelling rule. */
  largest_device_a: FoundAmperes;
  /** Smallest changes that make it pass, each tried by the same check. */
  changes: ChangeInWords[];
  neutral: SmallestSize | null;
  /** Equipment ground. */
  ground: SmallestSize | null;
  voltage_drop: VoltageDrop | null;
  raceway: RacewayResult | null;
  /** What was taken where the survey left a gap. */
  taken: string[];
  /** Id of its worksheet. */
  worksheet: string;
}

/** A value with its bounds and the facts that would narrow them. Equal bounds are an exact value. */
export interface FoundAmperes {
  /** Not below this, when that can be told. */
  low: number | null;
  /** Not above this, when that can be told. */
  high: number | null;
  /** What is not known, in words. */
  missing: string[];
}

/** A change that makes a feeder pass. */
export interface ChangeInWords {
  change: FeederChange;
  text: string;
  /** What makes the change in the picture after the work; none where it is no matter of a field. */
  edits: Edit[];
}

/** One change to a feeder. */
export type FeederChange = {
  next_size: string;
} | {
  copper: string;
} | {
  /** in A */
  smaller_device: number;
} | 'carry_whole_dwelling' | 'terminals75';

/** A conductor that must have at least a size. */
export interface SmallestSize {
  smallest: string | null;
  verdict: CheckVerdict;
  /** Id of its worksheet. */
  worksheet: string;
}

/** Voltage drop under the calculated load. */
export interface VoltageDrop {
  drops: Drops | null;
  /** Id of its worksheet. */
  worksheet: string;
}

/** Losses of all three voltages. */
export interface Drops {
  /** First leg to neutral. */
  leg_a: Drop;
  /** Second leg to neutral. */
  leg_b: Drop;
  /** Leg to leg. */
  line_to_line: Drop;
  /** Current in the neutral. */
  neutral: number;
  /** The largest loss as a share of its nominal voltage, from the larger of both figures. */
  worst: number;
}

/** Loss of one voltage along the run. Negative where the far end is higher, as a leg can be when the other is loaded. */
export interface Drop {
  /** By the hand formula: current times (R cos + X sin), summed over the way out and back. */
  hand: number;
  /** Difference of the two voltages' sizes in the solved circuit. */
  exact: number;
}

/** Fill of a raceway. */
export interface RacewayResult {
  verdict: CheckVerdict;
  /** Id of its worksheet. */
  worksheet: string;
}

/** A calculation that belongs to no feeder and no circuit. */
export interface OtherResult {
  /** Id of its worksheet. */
  worksheet: string;
  verdict: CheckVerdict;
  title: string;
}

/** Breaker against conductor of a branch circuit. */
export interface CircuitResult {
  circuit: string;
  verdict: CheckVerdict;
  /** Id of its worksheet. */
  worksheet: string;
}

/** Fault current at a board. */
export interface FaultAtBoard {
  board: string;
  fault: BoardFault;
}

/** Fault current at one board. */
export interface BoardFault {
  /** Name of the board; the source itself comes first. */
  board: string;
  /** By impedance. */
  impedance: FaultCurrents;
  /** By the point-to-point method. */
  point_to_point: FaultCurrents;
  /** The largest of all four, with the motors' share. */
  highest: FoundAmperes;
  /** Is the rating at least that? */
  verdict: CheckVerdict;
}

/** Line-to-line and line-to-neutral fault current. */
export interface FaultCurrents {
  /** Leg to leg. */
  line_to_line: FoundAmperes;
  /** Leg to neutral. */
  line_to_neutral: FoundAmperes;
}

/** A stated fact that the pictures contradict. */
export interface Disagreement {
  /** Name of the fact. */
  fact: string;
  place: Thing;
  /** What the job file states, and who said it. */
  stated: string;
  /** What the pictures say. */
  derived: string;
}

/** A thing of the job, by its name. */
export type Thing = {
  kind: 'job';
} | {
  kind: 'board';
  id: BoardId;
} | {
  kind: 'old_cabinet';
  id: BoardId;
} | {
  kind: 'feeder';
  id: FeederId;
} | {
  kind: 'building';
  id: BuildingId;
} | {
  kind: 'source';
  id: SourceId;
} | {
  kind: 'circuit';
  id: CircuitId;
} | {
  kind: 'outlet';
  id: OutletId;
};

/** A building or structure. */
export type BuildingId = string;

/** An outlet. */
export type OutletId = string;

/** Everything the rulebook says about a job. */
export interface Findings {
  /** How many places came to each verdict. */
  counts: Counts;
  /** What is required first, then what cannot be told, then what is met; the more dangerous first. */
  findings: Finding[];
}

/** How many instances came to each verdict. */
export interface Counts {
  /** Applies and is not met. */
  required: number;
  /** Applies and is met. */
  met: number;
  /** Applies; nobody can tell if it is met. */
  cannot_tell_if_met: number;
  /** Nobody can tell if it applies. */
  cannot_tell_if_applies: number;
  /** Does not apply. */
  not_required: number;
  /** Nobody could tell, but the job does not work there. */
  left_alone: number;
}

/** A requirement with the places that share a verdict. */
export interface Finding {
  /** Id of the requirement. */
  requirement: string;
  title: string;
  verdict: FindingVerdict;
  /** Required, and the facts say it is not there. */
  missing: boolean;
  /** Required, and only a person can see that it is done. */
  work: boolean;
  /** It only says something and asks for nothing. */
  note: boolean;
  /** The moment by which it must have been seen. */
  bites: Bites;
  /** 0 none to 3 grave. */
  danger: number;
  /** Section in force. */
  section: Cite | null;
  check: CheckStatus;
  /** What usually helps. */
  remedy: string;
  /** What that costs, as published. */
  cost: RemedyCost | null;
  places: PlaceOfFinding[];
}

export type FindingVerdict = 'not required' | 'required' | 'met' | 'cannot tell if met' | 'cannot tell if it applies';

export type Bites = 'signing' | 'cut-over' | 'inspection';

/** Cost of the usual remedy. */
export interface RemedyCost {
  /** US dollars */
  low: number;
  /** US dollars */
  high: number;
  /** One of what. */
  per: string;
  check: CheckStatus;
}

/** One place of a finding. */
export interface PlaceOfFinding {
  place: Thing;
  /** The facts that were read. */
  facts: FactUsed[];
  /** Names of the facts that would have to be known to tell. */
  missing: string[];
}

/** A fact as a verdict used it. */
export interface FactUsed {
  /** Dictionary name. */
  fact: string;
  /** What it is about. */
  of: Thing;
  /** Value with unit; `None` when nobody knows. */
  value: string | null;
  /** Who said it. */
  said: Said | null;
  /** Where its answer goes in the job file, when nobody knows. */
  answer: string | null;
}

/** A question: an unknown fact that matters. */
export interface OpenQuestion {
  /** Name of the fact, or the field that a calculation lacks. */
  fact: string;
  /** In plain words. */
  question: string;
  /** Who can answer. */
  asked_of: AskedOf;
  /** 0 none to 3 grave. */
  danger: number;
  /** The dearest answers less the cheapest, in material, over all places. */
  swing: number;
  places: PlaceOfQuestion[];
  /** Requirements that wait for it. */
  requirements: string[];
  /** Worksheets that wait for it. */
  worksheets: string[];
}

export type AskedOf = 'survey' | 'office' | 'authority' | 'utility' | 'derived';

/** A question at one place. */
export interface PlaceOfQuestion {
  place: Thing;
  /** Where in the job file the answer goes. */
  answer: string;
  /** What hangs on it here. */
  swing: number;
  /** Where the answer goes, as the path of an edit; `null` where no single value answers it. */
  at: string[] | null;
  /** What may stand there. */
  choices: Takes | null;
}

/** What an answer may be. */
export interface Takes {
  /** Its kind. */
  kind: AnswerKind;
  /** Unit of a number; none for a count. */
  unit: string | null;
  /** Words to choose from, one or several. */
  choices: string[];
}

/** Kinds of answers. */
export type AnswerKind = 'yes_no' | 'number' | 'choice' | 'choices' | 'date';

/** A whole calculation. */
export interface Worksheet {
  /** Stable name for look-ups, for example `load.standard` or `feeder.f1.ampacity`. */
  id: string;
  /** Title as printed. */
  title: string;
  /** Edition the sections belong to. */
  edition: Edition;
  /** Steps, in the order of the hand calculation. */
  lines: WorksheetLine[];
}

/** One step of a calculation. */
export interface WorksheetLine {
  /** What the step works out, in the words of the hand calculation. */
  label: string;
  /** The formula in words or symbols, empty when the value is an input itself. */
  how: string;
  /** What went in. */
  inputs: LineInput[];
  /** What came out. */
  value: LineValue;
  /** Section in the job's edition, when the step rests on one. */
  cite: Cite | null;
  /** Weakest check status among the published values the step uses. */
  check: CheckStatus;
  /** A reading taken, a caution, or why a value is safe. */
  note: string | null;
}

/** A named input of a line. */
export interface LineInput {
  /** What it is. */
  name: string;
  /** What it came to. */
  value: LineValue;
}

/** What stands in a line's value column. */
export type LineValue = {
  number: Quantity;
} | {
  text: string;
} | {
  passes: boolean;
} | {
  cannot_tell: string;
};

/** A number with its unit, ready to print. */
export interface Quantity {
  /** The bare number in `unit`. */
  value: number;
  /** Symbol, for example `VA`; empty for a pure number. */
  unit: string;
}

/** An answer about a job: what every answer begins with, then what was asked. */
export interface FaceAnswer extends AboutJobAnswer {
  /** The command that was asked. */
  command: 'face';
  board: string;
  /** There is a layout. */
  fits: boolean;
  /** Why not, where there is none. */
  why_not: string | null;
  /** What would help where nothing fits, each tried out. */
  changes_that_fit: FaceChange[];
  spaces: SpaceOnFace[];
  /** The same of the board before the work, as the job states it; none where it is new. Of what sits there nothing older is told. */
  spaces_before: SpaceOnFace[];
  /** Legs before the work, where positions and legs are known. */
  before: LegsBefore | null;
  after: LegsAfter | null;
  /** How good the layout is; less is better, in strict order. */
  score: FaceScore | null;
  /** What is proven of it, level by level. */
  proofs: FaceProof[] | null;
  /** Spaces counted, and the box that holds them. */
  size: BoxSize;
  /** Load of each circuit, by name. */
  loads: { [name: string]: CircuitLoad };
  /** What was taken for granted, and what is not known. */
  said: string[];
  /** What puts this layout into the picture after the work. */
  edits: Edit[];
  worksheets: [Worksheet];
  /** The drawing as SVG; `null` when it was not asked for. */
  drawing: string | null;
}

/** A change that makes everything fit. */
export interface FaceChange {
  change: FaceChangeSort;
  /** What to change, in words. */
  what: string;
  /** How much is changed: spaces, circuits or facts. */
  amount: number;
  /** What makes the change in the picture after the work; none where it is no matter of a field. */
  edits: Edit[];
}

/** Sorts of change. */
export type FaceChangeSort = {
  fewer_spares: number;
} | {
  unpinned: string[];
} | {
  tandems: number[];
} | {
  larger_box: number;
} | {
  second_board: string[];
};

/** A space, and what is in it. */
export interface SpaceOnFace {
  /** Number on the label. */
  number: number;
  /** Column, from the left. */
  column: number;
  /** Row, from the top. */
  row: number;
  /** Leg its stab is on; `null` where nobody knows the legs. */
  leg: Leg | null;
  /** The label allows a tandem breaker here. */
  tandem_allowed: boolean;
  /** What sits in it; two halves of a tandem breaker are two. */
  occupants: Occupant[];
}

/** One of the two ungrounded legs. */
export type Leg = 'A' | 'B';

/** What sits in a space. */
export interface Occupant {
  /** Circuit, feeder, source or device. */
  name: string;
  /** What it serves. */
  serves: string;
  /** The whole breaker: both circuits of a tied pair. */
  breaker: string;
  /** The space as a job file writes it, `19A` for half of one. */
  space: string;
  /** The breaker begins in this space and takes so many. */
  width: number | null;
  /** It is half of a tandem breaker. */
  half: boolean;
  /** Spaces it had before, on this board. */
  old: number[];
  /** It has the same spaces as before; `None` when it is new on the board. */
  stays: boolean | null;
}

/** Legs as they stand. */
export interface LegsBefore {
  legs: Legs;
  /** Circuits whose position or load nobody knows. */
  left_out: string[];
}

/** Loads of both legs. */
export interface Legs {
  /** Load on leg A and on leg B, VA. */
  load: [number, number];
  /** Continuous load on each, VA. */
  continuous: [number, number];
}

/** Legs of the layout. */
export interface LegsAfter {
  legs: Legs;
}

/** What a layout is judged by, in strict order: the first difference decides. Less is better. */
export interface FaceScore {
  /** Tandem halves used. */
  tandem_halves: number;
  /** Difference between the legs' loads, VA. */
  imbalance: number;
  /** Difference between the legs' continuous loads, VA. */
  continuous: number;
  /** Inches by which conductors do not reach their spaces. */
  shortfall: number;
  /** Inches from the cables' entries to their spaces. */
  reach: number;
  /** Circuits that leave their old position. */
  moves: number;
  /** Heavily loaded continuous breakers that touch. */
  touching: number;
  /** Free spaces that are not part of a whole free pair. */
  odd_spares: number;
}

/** What is proven of one level. */
export interface FaceProof {
  /** The level. */
  level: string;
  /** What the layout has. */
  value: number;
  /** No layout that is as good on the levels above has less. */
  bound: number;
  /** The layout is proven best on this level and all above it. */
  proven: boolean;
}

/** Spaces counted, and the box that holds them. */
export interface BoxSize {
  /** Spaces in use before the work. */
  used_before: number;
  /** Spaces more because halves of tandem breakers become breakers of full width. */
  freed_tandems: number;
  /** Circuits, feeders and devices that were not on the board before. */
  added: number;
  /** Spaces that everything takes with breakers of full width. */
  needed: number;
  /** Circuits that need arc-fault or ground-fault protection which is not planned yet; each takes a full space. */
  protection_to_add: number;
  /** Spaces for loads that the customer named for later. */
  future: number;
  /** Spare spaces. */
  spare: number;
  /** The smallest common box that holds all of it; `None` when one box is not enough. */
  recommended: number | null;
  /** Spaces of the planned box. */
  planned: number;
}

/** A circuit's load. */
export interface CircuitLoad {
  /** In all, on every pole together. */
  load: WholeVa;
  /** Part of it that is continuous. */
  continuous: WholeVa;
  /** Where it comes from. */
  basis: LoadBasis;
}

/** Load, rounded to whole volt-amperes so that sums are exact. */
export type WholeVa = number;

/** Where a circuit's load comes from. */
export type LoadBasis = 'stated' | 'nameplates' | 'fixed_amount' | 'share' | 'unknown';

/** An answer about a job: what every answer begins with, then what was asked. */
export interface MoveAnswer extends AboutJobAnswer {
  /** The command that was asked. */
  command: 'move';
  /** The places. */
  move: Sweep;
  /** The best place, line by line. */
  worksheets: [Worksheet];
  /** The drawing as SVG; `null` when it was not asked for. */
  drawing: string | null;
}

/** The sweep, each place with the edits that put the panel there. */
export interface Sweep {
  /** The board. */
  board: string;
  /** Where it stands now. */
  old: Point | null;
  /** Size of the new cabinet: width and height. */
  cabinet: [number, number];
  /** Height of the highest handle at these places, or the most it can be. */
  highest_handle: number | null;
  /** Width and height of the working space that the edition asks for, where its tables have them. */
  working_space: [number, number];
  /** Step of the grid. */
  step: number;
  /** The new panel at the old place, for comparison; its legality is part of the answer. */
  in_place: PanelPlace;
  /** Each wall, each way. */
  walls: WallSweep[];
  /** The cheapest place that nothing known speaks against: its number in `walls` and there in `places`. */
  best: [number, number] | null;
  /** The cheapest place without an open question about the place itself. */
  best_sure: [number, number] | null;
  /** Verdicts, one entry for all places that no requirement can tell apart. */
  judged: JudgedAtPlace[];
  /** What was taken where the job leaves a gap, and what is not counted, in words. */
  said: string[];
  /** Places looked at, of the grid and in all. */
  looked_at: [number, number];
}

/** A place on a wall. */
export interface Point {
  /** Name of the wall. */
  wall: string;
  /** From the wall's left end. */
  x: number;
  /** Above the floor. */
  y: number;
}

/** One place for the panel. */
export interface PanelPlace {
  /** Lower left corner of the cabinet. */
  at: Point;
  /** What becomes of the old cabinet. */
  way: PanelWay;
  /** It is a place of the grid; else one where something changes, or just beside one. */
  on_grid: boolean;
  /** May a panel be put there? */
  legality: Legality;
  /** Circuits that are lengthened. */
  extended: Span;
  /** Sets of splices: in the old cabinet where that stays, else in new boxes. */
  splices: Span;
  /** New boxes for them. */
  boxes: Span;
  /** Length added outside enclosures, all circuits together. */
  added_outside: Span;
  /** The same with what lies inside cabinets, where that is known of every circuit. */
  added_total: number | null;
  /** Circuits beyond each number that a requirement holds lengths against. */
  beyond: Beyond[];
  /** Requirements that this place brings up and the old place does not, or may bring up. */
  asked: number;
  /** Which of [`Sweep::judged`] holds here. */
  judged: number;
  /** Feeders that change in length. */
  feeders: FeederRun[];
  /** What it costs. */
  cost: PlaceCost;
  /** What puts the panel there. */
  edits: [Edit];
}

/** May a panel be put there? */
export type Legality = {
  is: 'legal';
} | {
  is: 'open';
  because: AskedAtPlace[];
} | {
  is: 'no';
  because: Refusal[];
};

/** One thing that a requirement asks for somewhere. */
export interface AskedAtPlace {
  /** The requirement. */
  requirement: string;
  /** Its title. */
  title: string;
  /** Its section in the job's edition. */
  section: string;
  /** Sort of the thing it is about, for example `circuit`. */
  sort: string;
  /** Name of that thing. */
  name: string;
  /** Required; else nobody can tell yet. */
  sure: boolean;
  /** Material of the usual remedy, as the rulebook has it. */
  material: Span | null;
}

/** From the least that can be to the most, while facts are unknown. */
export interface Span {
  /** If every open question is answered well. */
  low: number;
  /** If none is. */
  high: number;
}

/** Why a panel may not be put at a place. */
export interface Refusal {
  /** In words. */
  why: string;
  /** The requirement, where it is one; else the cabinet does not fit. */
  requirement: string | null;
  /** Its section in the job's edition. */
  section: string;
}

/** How many circuits are lengthened beyond a number that a requirement holds lengths against. */
export interface Beyond {
  /** The number. */
  limit: number;
  /** Circuits lengthened by more than it, at least and, while lengths are unknown, at most. */
  circuits: Span;
}

/** A feeder to or from the board. */
export interface FeederRun {
  /** The feeder. */
  feeder: string;
  /** Length before. */
  before: number | null;
  /** Length afterwards. */
  after: number | null;
  /** Change of its path, spare length not counted; nothing where it is unknown. */
  extra: number | null;
  /** The change is the most it can be: nobody said where the feeder comes from. */
  at_most: boolean;
  /** What happens to it. */
  work: FeederWork;
}

/** What happens to a feeder. */
export type FeederWork = 'reaches' | 'spliced_in_old_cabinet' | 'too_short' | 'new_anyway';

/** What the work of a place costs. */
export interface PlaceCost {
  /** Time of one person. */
  hours: Span;
  /** Material, as the shop buys it. */
  material: Span;
  /** What the customer pays for it. */
  price: Span;
  /** Parts and work that the price book has no figure for: with any of them the price is incomplete. */
  unpriced: string[];
}

/** All places along one wall, with one thing becoming of the old cabinet. */
export interface WallSweep {
  /** The wall. */
  wall: string;
  /** Its length. */
  length: number;
  /** What becomes of the old cabinet. */
  way: PanelWay;
  /** Places from left to right. */
  places: PanelPlace[];
  /** Where price or legality jump, from left to right. */
  cliffs: Cliff[];
  /** The cheapest possible place here, by its number in `places`. */
  best: number | null;
}

/** A place where the price or the law jumps. */
export interface Cliff {
  /** Along the wall: on one side of this place all is as at the place itself. */
  at: number;
  /** On the other side, to the left or to the right, it is dearer or not allowed. */
  to_the_right: boolean;
  /** What happens there. */
  steps: CliffStep[];
  /** What it adds to the price; nothing where it only ends what is allowed. */
  adds: Span;
  /** The whole in words. */
  words: string;
}

/** One thing that changes at a cliff. */
export type CliffStep = {
  cross_limit: {
    /** How many. */
    circuits: number;
    /** The number. */
    limit: number;
  };
} | {
  lengthened: {
    /** How many. */
    circuits: number;
  };
} | {
  asked: {
    /** The requirement. */
    requirement: string;
    /** Its title. */
    title: string;
    /** Its section in the job's edition. */
    section: string;
    /** Sort of the things it is about, for example `circuit`. */
    sort: string;
    /** At how many of them, at least and, while facts are unknown, at most. */
    places: Span;
  };
} | 'leaves_old_place' | {
  feeder_too_short: {
    /** The feeder. */
    feeder: string;
  };
} | {
  refused: {
    /** Why, in words. */
    why: string;
    /** Section, where a requirement forbids it. */
    section: string;
  };
};

/** Verdicts that hold at every place of one kind. */
export interface JudgedAtPlace {
  /** Requirements about the place itself that forbid it. */
  refused: Refusal[];
  /** Requirements about the place itself that cannot be told. */
  open: AskedAtPlace[];
  /** What the place brings up, or may bring up, and the new panel at the old place would not. */
  asked: AskedAtPlace[];
  /** Requirements and places that are required and missing, in all. */
  missing: number;
  /** Those that cannot be told, in all. */
  cannot_tell: number;
  /** Feeders whose conductors or drop do not pass here and would at the old place, in words. */
  feeders: string[];
  /** Fill of the old cabinet as a splice box, where it is one and its fill can be told. */
  splice_fill: boolean | null;
}

/** An answer about a job: what every answer begins with, then what was asked. */
export interface CutoverAnswer extends AboutJobAnswer {
  /** The command that was asked. */
  command: 'cutover';
  /** `null` when nothing goes dark. */
  cutover: CutoverPlan | null;
  /** Why there is none. */
  why?: string;
  /** How the dark time comes about; left out when nothing goes dark. */
  worksheets?: [Worksheet];
  /** The drawing as SVG; `null` when it was not asked for. */
  drawing: string | null;
}

/** The order of work with the least dark time. */
export interface CutoverPlan {
  approach: Approach;
  workers: number;
  /** When the crew arrives. */
  start: string | null;
  /** Hours that the crew works on one day. */
  shift_h: number;
  /** The utility must disconnect. */
  needs_utility: boolean;
  /** Where the work is made dead. */
  locks: Lock[];
  /** Hours of darkness, each weighed by what hangs on the circuit. */
  weighted_dark_h: number;
  /** No plan of this approach, crew and day can have less. */
  cannot_be_less_than_h: number;
  /** How far this plan may be from the best, as a share of the best. */
  gap: number;
  proven_least: boolean;
  /** Why no order can be better. */
  proof: CutoverProof;
  tasks: TaskOfCrew[];
  /** What nobody goes past unsigned. */
  gates: GateAt[];
  /** Circuits that go dark. */
  circuits: CircuitInTheDark[];
  /** New circuits that come on for the first time. */
  new_circuits: string[];
  /** Circuits that do not come back. */
  left_off: string[];
  /** Rooms in the dark, the longest first. */
  rooms: RoomInTheDark[];
  /** What to tell the household. */
  advice: string[];
  /** What goes wrong with this plan. */
  warnings: string[];
  /** What would keep the limits that are broken, each tried. */
  ways: WayTried[];
  /** What a reader must know. */
  notices: string[];
  /** When the crew leaves. */
  end_h: number;
}

/** How the panel is changed over. */
export type Approach = 'in_place' | 'new_panel_first';

/** A place where a board is made dead. */
export interface Lock {
  /** Board that is made dead, and all below it. */
  board: string;
  /** How. */
  by: LockedBy;
  /** The same in words. */
  words: string;
}

/** How a board is made dead. */
export type LockedBy = 'feeder_device' | 'own_main' | 'utility' | 'source' | 'unknown';

/** Why no order can be better, or how near the best this one is. */
export type CutoverProof = 'order' | 'all_choices' | 'own_time' | 'shared' | 'none';

/** A task of one worker. */
export interface TaskOfCrew {
  step: CutoverStep;
  /** Circuits or board it is done to; empty where it is the whole site or panel. */
  subject: string;
  what: string;
  /** From 1. */
  worker: number;
  from_h: number;
  to_h: number;
  /** Circuits it lands or switches on. */
  circuits: string[];
}

/** What a task is. */
export type CutoverStep = 'site' | 'map' | 'prepare' | 'temporary' | 'lock_out' | 'panel' | 'supply_end' | 'feeder' | 'land' | 'torque' | 'shorts' | 'prove' | 'restore' | 'finish';

/** A gate: nobody goes on before it is signed. */
export interface GateAt {
  gate: GateKind;
  at_h: number;
  what: string;
}

/** What must hold before the work goes on. */
export type GateKind = 'locked_out' | 'tested_dead' | 'bond_state' | 'dead_tests' | 'torque_done' | 'voltages_proven';

/** A circuit that goes dark. */
export interface CircuitInTheDark {
  id: string;
  serves: string;
  rooms: FactArrayOfString;
  /** Kind in the table of weights. */
  kind: string;
  /** What an hour weighs. */
  weight: number;
  /** Its loads have temporary power. */
  temporary_power: boolean;
  dark: DarkSpan[];
  /** All of its dark time. */
  dark_h: number;
  /** Its longest span. */
  longest_h: number;
  /** Why it is critical, where it is. */
  critical: string | null;
  /** The longest that it can bear; `null` where nobody set a limit or knows it. */
  longest_allowed_h: number | null;
  /** Whether that is kept. */
  kept: boolean | null;
}

export type FactArrayOfString = string[] | 'unknown' | {
  is: string[];
  by?: Said;
};

/** A span of darkness. */
export interface DarkSpan {
  from_h: number;
  to_h: number;
}

/** A room in the dark. */
export interface RoomInTheDark {
  /** `null` where nobody knows what a circuit serves. */
  room: string | null;
  dark: DarkSpan[];
  circuits: string[];
}

/** A change of the plan, tried. */
export interface WayTried {
  change: string;
  /** Every limit is kept then, and nothing is dark overnight. */
  keeps_all: boolean;
  longest_h: number;
  weighted_dark_h: number;
  end_h: number;
}

/** An answer about a job: what every answer begins with, then what was asked. */
export interface PriceAnswer extends AboutJobAnswer {
  /** The command that was asked. */
  command: 'price';
  /** Certain lines. */
  lines: PriceLine[];
  /** What hangs on unknown facts. */
  open_lines: OpenLine[];
  /** Sum of the certain lines. */
  certain: number;
  total: PriceTotal;
  /** What is not priced or not counted: with any of it the total is not complete. */
  incomplete_without: PriceGap[];
  options: OptionOffered[];
  /** Unit prices for what nobody can see yet. */
  allowances: AllowanceOffered[];
  /** When is paid what, and what the state says. */
  payments: Payments;
  /** What is not included. */
  exclusions: string[];
  /** The certain lines' way from cost to price. */
  cost?: LineCost;
  /** Open questions, with what hangs on each at the customer's price. */
  questions?: PricedOpenQuestion[];
  /** What missing each requirement would have cost, the dearest first. */
  exposure?: ExposureTo[];
  /** What is required and needs another plan first. */
  plan_must_change?: PlanMustChange[];
  /** From cost to price, line by line. */
  worksheet?: Worksheet;
}

/** The same thing for the same reason, over all its places. */
export interface PriceLine {
  group: PriceGroup;
  what: PricedThing;
  /** What it is, in the words of the book. */
  text: string;
  count: number;
  /** Of what unit. */
  unit: string;
  /** Why, in words. */
  because: string;
  /** The requirement behind it, where there is one. */
  requirement: string | null;
  places: Thing[];
  /** US dollars */
  price: number;
  /** Its way from cost to price; left out for the customer. */
  cost?: LineCost;
}

/** Part of the offer that a line belongs to. */
export type PriceGroup = 'boards' | 'feeders' | 'circuits' | 'breakers' | 'required' | 'safety_and_tests' | 'permit' | 'options';

/** What is counted. */
export type PricedThing = {
  part: string;
} | {
  work: string;
} | {
  fee: Fee;
};

/** What offices ask. */
export type Fee = 'permit' | 'utility';

/** A line's way from cost to price. */
export interface LineCost {
  /** Time of one person. */
  minutes: number;
  /** Material at the shop's own price. */
  material: number;
  /** Tax that the shop pays on it. */
  tax_paid: number;
  /** Wage with its burden. */
  labour: number;
  /** Fees, passed on at cost: they carry no overhead, contingency or profit. */
  fees: number;
  /** Overhead by time. */
  overhead: number;
  /** Markup on material for fetching it and for what is lost. */
  handling: number;
  /** For what is uncertain. */
  contingency: number;
  /** Profit. */
  profit: number;
  /** Tax charged to the customer on material. */
  tax_charged: number;
}

/** What may come on top. */
export interface OpenLine {
  /** Why, in words. */
  because: string[];
  requirements: string[];
  places: Thing[];
  /** US dollars */
  low: number;
  /** US dollars */
  high: number;
}

/** A total, as far as it can be told. Never a number that hides something missing. */
export type PriceTotal = {
  /** US dollars */
  exact: number;
} | {
  between: {
    /** Least. */
    low: number;
    /** Most. */
    high: number;
    /** Too many combinations to try: no less and no more, and perhaps narrower. */
    bound: boolean;
  };
} | {
  incomplete: {
    /** Least of what is priced. */
    priced_low: number;
    /** Most of what is priced. */
    priced_high: number;
  };
};

/** Something that cannot be counted or priced: the total is not complete without it. */
export interface PriceGap {
  /** What is not priced. */
  what: string;
  /** What to do about it: a line of the book or a field of the job file. */
  advice: string;
}

/** An option as it stands on this job. */
export interface OptionOffered {
  option: string;
  title: string;
  /** Who asks for it here. */
  asked_by: AskedBy;
  /** A requirement that may turn out to bite asks for it. */
  perhaps_code: boolean;
  /** Section of the requirement that asks for it, where one does. */
  section: string;
  /** The customer chose it. */
  chosen: boolean;
  /** What it adds; `null` where a part has no price. */
  adds: number | null;
  /** Options it cannot go with. */
  excludes: string[];
  note: string;
}

/** Who asks for it. */
export type AskedBy = 'code' | 'insurer' | 'wish';

/** A unit price for what nobody can see yet. */
export interface AllowanceOffered {
  what: string;
  /** One of what. */
  unit: string;
  /** `null` where a part has no price. */
  price: number | null;
  /** Circuits that show the hazard behind it. */
  likely: string[];
}

/** The payments, and what the state says. */
export interface Payments {
  /** One schedule for each end of the price; none while the total is incomplete. */
  schedules: PaymentSchedule[];
  /** What the book knows of the job's state. */
  terms: StateTerm[];
  /** Days that the offer holds. */
  valid_days: number;
}

/** Payments that add up to a price. */
export interface PaymentSchedule {
  /** The price. */
  price: number;
  /** On signing: the shop's wish, or the state's cap where that is less. */
  on_signing: number;
  /** Once the new panel is energized. */
  on_energizing: number;
  /** After the final inspection. */
  after_inspection: number;
  /** The state's cap on the first payment, where the book has one. */
  cap: number | null;
}

/** What a state asks of the contract. */
export interface StateTerm {
  /** Its name in the book. */
  name: string;
  /** Two letters of the state. */
  state: string;
  /** Sort. */
  kind: TermKind;
  /** Only above this price. */
  over: number | null;
  /** Cap as a share of the price. */
  percent: number | null;
  /** Cap as an amount; with a share as well, the lesser of both. */
  amount: number | null;
  /** Days. */
  days: number | null;
  /** In words. */
  text: string;
  /** Where it was published. */
  source: string;
  /** How far it was checked. */
  check: string;
  /** What may be otherwise. */
  caveat: string;
}

/** Sorts of terms. */
export type TermKind = 'deposit_cap' | 'cancel' | 'written';

/** An open question with what hangs on it at the customer's price. */
export interface PricedOpenQuestion {
  fact: string;
  question: string;
  /** US dollars */
  swing: number;
  places: PlaceOfQuestion[];
}

/** What missing a requirement would have cost. */
export interface ExposureTo {
  requirement: string;
  title: string;
  /** Section in force. */
  section: string;
  places: Thing[];
  /** Material and labour at cost. */
  work: number;
  /** A trip back at cost, and the inspection again. */
  trip: number;
}

/** What is required and needs another plan first. */
export interface PlanMustChange {
  requirement: string;
  places: Thing[];
  /** What usually helps. */
  what: string;
}

/** The answer to `read`. */
export interface ReadAnswer {
  /** Number of the form, 1. */
  format: number;
  /** `read`. */
  command: ReadCommand;
  /** One line for lists and papers. */
  title: string;
  /** Why the customer called. */
  reason: string;
  /** Where, and under which edition. */
  place: ReadPlace;
  /** The house as it stands, in the order of the file. */
  before: ReadHouse;
  /** The house as it will stand: before, with what the file says of after laid over it. What is gone is not in it. */
  after: ReadHouse;
  /** What the file itself says of after, as it is written there. */
  stated_after: { [name: string]: unknown };
  /** How the work is to be done. */
  plan: ReadPlan;
  /** What the offer holds beside the work. */
  offer: ReadOffer;
  /** Where a panel might go. */
  candidates: ReadCandidates;
  /** Words that fields take, by sort and field. */
  choices: { [name: string]: string[] };
}

/** `read`. */
export type ReadCommand = 'read';

/** Address-level facts: state, authority, edition in force. */
export interface ReadPlace {
  /** Two-letter state code. */
  state: string;
  /** Street address, for papers. */
  address: string;
  /** Who the customer is, for the offer and the hand-over; never on a directory. */
  customer: string;
  /** City or county. */
  city: string;
  /** Authority having jurisdiction, as it calls itself. */
  authority: string;
  /** Edition adopted at the address. There is no default. */
  edition: Edition;
  /** Date of the permit application, which commonly fixes edition and amendments. */
  permit_date: string | null;
  /** Number of the permit, once there is one. */
  permit_number: string;
  /** Names of amendment files that apply here. */
  amendments: string[];
  /** Electric utility. */
  utility: string;
  /** Facts about the job and its place by their full dictionary name, for example `job.ahj_measures_outside_only`. */
  facts: { [name: string]: ReadFact<Stated> };
}

export type ReadFact<T> = {
  known: true;
  is: T;
  by: Said;
} | {
  known: false;
  asked: boolean;
};

/** One picture of the house. */
export interface ReadHouse {
  /** The dwelling. */
  dwelling: ReadDwelling;
  /** The utility's side. */
  supply: ReadSupply;
  /** Electrodes and bonding. */
  grounding: ReadGrounding;
  /** Buildings apart from the main one. */
  buildings: { [name: string]: ReadBuilding };
  /** Boards. */
  boards: { [name: string]: ReadBoard };
  /** Feeders and service conductors. */
  feeders: { [name: string]: ReadFeeder };
  /** Branch circuits. */
  circuits: { [name: string]: ReadCircuit };
  /** Loads. */
  loads: { [name: string]: ReadLoad };
  /** Outlets that matter by themselves. */
  outlets: { [name: string]: ReadOutlet };
  /** Sources besides the utility. */
  sources: { [name: string]: ReadSource };
  /** Walls by the names that positions use. */
  walls: { [name: string]: ReadWall };
  /** Where cables run from one wall to another. Left out, above the ceiling is taken and said. */
  runs: ReadFact<ReadRuns>;
}

/** The dwelling, and what of it every load calculation needs. */
export interface ReadDwelling {
  /** Kind of building the dwelling is in. */
  kind: ReadFact<ReadDwellingKind>;
  /** Floor area by outside dimensions, without open porches, garages and space that can never be finished. */
  area: ReadFact</* in ft2 */ number>;
  /** Year built. */
  year_built: ReadFact<number>;
  /** Electrical system at the panels. */
  system: ReadFact<ReadSystem>;
  /** 20 A small-appliance circuits; at least two count. */
  small_appliance_circuits: ReadFact<number>;
  /** Laundry circuits; none only where a multifamily building has a common laundry. */
  laundry_circuits: ReadFact<number>;
  /** Dwelling units fed by the service. */
  units: ReadFact<number>;
  /** One year of demand at the service, where the utility or a recorder gave it. */
  measured_demand: ReadMeasuredDemand | null;
}

/** Kind of building. */
export type ReadDwellingKind = 'one_family' | 'two_family' | 'multifamily' | 'other';

/** Electrical system. */
export type ReadSystem = '120/240' | '208Y/120';

/** A stated maximum demand. */
export interface ReadMeasuredDemand {
  /** Highest average power over a 15-minute interval. */
  highest_15_minute: number;
  /** Days covered by the record. */
  days: number;
  /** True when on-site generation or peak shaving ran in that time. */
  generation_or_peak_shaving: ReadFact<boolean>;
  /** True when the larger of heating and cooling and other seasonal loads are in the record. */
  seasonal_loads_included: ReadFact<boolean>;
}

/** The utility's side. */
export interface ReadSupply {
  /** Available fault current at the utility's end of the service conductors, as the utility states it. */
  fault_current: ReadFact</* in A */ number>;
  /** Utility transformer, where its data are known. */
  transformer: ReadTransformer | null;
  /** Further facts by their dictionary name (`service.`, without the prefix). */
  facts: { [name: string]: ReadFact<Stated> };
}

/** A utility transformer. */
export interface ReadTransformer {
  /** Rating. */
  kva: number;
  /** Nameplate impedance. */
  impedance: ReadFact</* in % */ number>;
  /** Reactance over resistance. */
  x_over_r: ReadFact<number>;
}

/** Electrodes and bonding of the premises. */
export interface ReadGrounding {
  /** Electrodes in use, each with its conductor. */
  electrodes: ReadFact<ReadElectrode[]>;
  /** Further facts by their dictionary name (`ground.`, without the prefix). */
  facts: { [name: string]: ReadFact<Stated> };
}

/** One grounding electrode. */
export interface ReadElectrode {
  /** Kind. */
  kind: ReadElectrodeKind;
  /** How many alike. */
  count: number;
  /** Its grounding electrode conductor. */
  conductor: ReadFact<string>;
}

/** Kinds of grounding electrode. */
export type ReadElectrodeKind = 'water_pipe' | 'rod' | 'plate' | 'concrete_encased' | 'ground_ring' | 'building_steel';

/** A building or structure apart from the main one. */
export interface ReadBuilding {
  id: string;
  change: ScopeChange;
  /** Words for papers. */
  name: string;
  /** It contains a dwelling unit. */
  dwelling_unit: ReadFact<boolean>;
  /** After picture only: no longer there. */
  gone: boolean;
  /** Further facts by their dictionary name (`building.`, without the prefix). */
  facts: { [name: string]: ReadFact<Stated> };
}

/** One board. */
export interface ReadBoard {
  id: string;
  change: ScopeChange;
  /** Words for papers, for example `hall panel`. */
  name: string;
  /** Building it is in, when that is not the main building. */
  building: ReadBuildingId | null;
  /** Bus rating. */
  bus: ReadFact</* in A */ number>;
  /** How the supply lands on the bus. */
  main: ReadFact<ReadMainKind>;
  /** Rating of the main breaker, when there is one. */
  main_amps: ReadFact</* in A */ number>;
  /** Full-size spaces. */
  spaces: ReadFact<number>;
  /** Poles the label allows, tandems counted per pole. */
  poles_listed: ReadFact<number>;
  /** Spaces whose label allows a tandem breaker; an empty list means none. */
  tandem_spaces: ReadFact<number[]>;
  /** Leg of each row of spaces from the top, for example `"ABAB"`, repeated downwards. A fact of the board. */
  leg_rows: ReadFact<ReadLegRows>;
  /** How its spaces are numbered. */
  numbering: ReadNumbering;
  /** What takes spaces besides circuits: surge protector, monitor, back-fed main. */
  devices: { [name: string]: ReadDevice };
  /** After picture only: spaces to be left free for later. */
  spare_spaces: number | null;
  /** Terminals on the neutral bars. */
  neutral_terminals: ReadFact<number>;
  /** An equipment grounding bar is in place and bonded to the cabinet. */
  ground_bar: ReadFact<boolean>;
  /** The neutral is bonded to the cabinet or to equipment grounds here. */
  neutral_bonded: ReadFact<boolean>;
  /** Short-circuit rating: the lowest of board mark and breakers, or a marked series rating. */
  short_circuit_rating: ReadFact</* in A */ number>;
  /** Terminal temperature rating, the lowest of the terminals that matter. */
  terminals: ReadFact</* in C */ number>;
  /** Cabinet. */
  cabinet: ReadCabinet;
  /** What kind of place it stands in; tags of the fact dictionary. */
  location: ReadFact<string[]>;
  /** Working space in front. */
  working_space: ReadWorkingSpace;
  /** Lower left corner of the cabinet on its wall. */
  position: Point | null;
  /** Floor area of the dwelling whose general lighting and receptacles this board and those below it carry. Leave out where the board carries the entire dwelling. */
  area_served: ReadFact</* in ft2 */ number>;
  /** After picture only: the board is replaced by a new one. */
  replaced: boolean;
  /** After picture only: only the interior is new, the cabinet stays. */
  interior_only: boolean;
  /** After picture only: what becomes of the old cabinet of a board that moves. */
  old_cabinet: ReadFact<ReadOldCabinet>;
  /** After picture only: length along framing from the old cabinet to the new one, outside both. Left out, it is worked out from the two positions when they are on one wall. */
  route_from_old: ReadFact</* in in */ number>;
  /** After picture only: conductor length inside old and new cabinet together, per extended circuit. */
  make_up: ReadFact</* in in */ number>;
  /** After picture only: the board is taken out. */
  gone: boolean;
  /** Further facts by their dictionary name (`panel.`, `old.`, `limited.`, without the prefix). */
  facts: { [name: string]: ReadFact<Stated> };
  /** Facts that hold for every circuit of the board which does not speak of them itself (`circuit.`, without the prefix). */
  circuit_facts: { [name: string]: ReadFact<Stated> };
}

/** A building or structure. */
export type ReadBuildingId = string;

/** How the supply lands on a bus. */
export type ReadMainKind = 'main_breaker' | 'main_lugs' | 'backfed_breaker' | 'feed_through';

/** Legs of the rows of spaces, top row first. */
export type ReadLegRows = string;

/** How spaces are numbered. */
export type ReadNumbering = 'across' | 'down';

/** Something in a board that takes spaces and is neither circuit nor feeder. */
export interface ReadDevice {
  /** What it is. */
  kind: ReadDeviceKind;
  /** Words for papers. */
  name: string;
  /** It sits on the bus or beside it and takes no space. */
  bolt_on: boolean;
  /** Spaces it takes, one above the other. Left out, a surge protector and a back-fed main take 2, anything else 1. */
  width: number | null;
  /** Spaces it is in, or has to be in. */
  spaces: ReadFact<number[]>;
  /** It stays in these spaces. */
  pinned: boolean;
  /** After picture only: taken out. */
  gone: boolean;
}

/** Kinds of device. */
export type ReadDeviceKind = 'surge_protector' | 'monitor' | 'main_breaker' | 'other';

/** The box around a board. */
export interface ReadCabinet {
  /** Outside width. */
  width: ReadFact</* in in */ number>;
  /** Outside height. */
  height: ReadFact</* in in */ number>;
  /** Outside depth. */
  depth: ReadFact</* in in */ number>;
  /** Width of the side gutter between interior and wall of the cabinet. */
  gutter: ReadFact</* in in */ number>;
  /** Room between the lugs of the supply conductors and the wall they face. */
  lug_space: ReadFact</* in in */ number>;
  /** How the supply conductors leave the cabinet. */
  supply_leaves: ReadFact<ReadLeaves>;
  /** Flush or surface. */
  mounting: ReadFact<ReadMounting>;
  /** The wall it is set in is combustible. */
  combustible_wall: ReadFact<boolean>;
}

/** Which wall of a cabinet a conductor leaves by, seen from its terminal. */
export type ReadLeaves = 'turning' | 'opposite';

/** How a cabinet sits in the wall. */
export type ReadMounting = 'flush' | 'surface';

/** Clear space in front of a board. */
export interface ReadWorkingSpace {
  /** Clear depth in front. */
  depth: ReadFact</* in in */ number>;
  /** Clear width. */
  width: ReadFact</* in in */ number>;
  /** Clear height from the floor. */
  height: ReadFact</* in in */ number>;
  /** Center of the highest breaker handle above the floor. */
  highest_handle: ReadFact</* in in */ number>;
}

/** What becomes of the cabinet that a board leaves. */
export type ReadOldCabinet = 'removed' | 'splice_box';

/** One feeder, or the service conductors when `from` is `utility`. */
export interface ReadFeeder {
  id: string;
  change: ScopeChange;
  /** Board it comes from, or `utility`. */
  from: string;
  /** Board it feeds. */
  to: string;
  /** Rating of the overcurrent device at its supply end. Service conductors have none of their own. */
  breaker: ReadFact</* in A */ number>;
  /** Spaces of that device in the supplying board. */
  spaces: ReadFact<number[]>;
  /** Wires: 3 is two hots and neutral, 4 adds an equipment ground. */
  wires: ReadFact<number>;
  /** Ungrounded conductors. */
  wire: ReadFact<string>;
  /** Neutral conductor, when not the size of the ungrounded ones. */
  neutral: ReadFact<string>;
  /** Equipment grounding conductor. */
  ground: ReadFact<string>;
  /** Sets in parallel. */
  sets: number;
  /** Insulation of the ungrounded conductors. */
  insulation: ReadFact<ReadInsulation>;
  /** Wiring method. */
  method: ReadFact<ReadWiringMethod>;
  /** Trade size of the raceway, where there is one. */
  raceway_size: ReadFact<string>;
  /** One-way length. */
  length: ReadFact</* in ft */ number>;
  /** Where it comes from on the wall, before it turns to the board it feeds. */
  home_run: Point | null;
  /** Spare conductor length at the board it feeds. */
  slack: ReadFact</* in in */ number>;
  /** Highest ambient temperature along the run. Left out, 30 C is taken and said. */
  ambient: ReadFact</* in C */ number>;
  /** Current-carrying conductors in the same raceway or bundle, this feeder's own included. */
  current_carrying: ReadFact<number>;
  /** In contact with thermal insulation, caulk or foam. */
  in_thermal_insulation: ReadFact<boolean>;
  /** Runs outside between buildings or outdoors. */
  outside: ReadFact<boolean>;
  /** Depth of cover where it is buried. */
  burial_depth: ReadFact</* in in */ number>;
  /** Year it was installed, where that is known. */
  year_installed: ReadFact<number>;
  /** After picture only: new conductors in place of the old ones. */
  replaced: boolean;
  /** After picture only: taken out. */
  gone: boolean;
  /** Further facts by their dictionary name (`feeder.`, without the prefix). */
  facts: { [name: string]: ReadFact<Stated> };
}

/** Insulation of a conductor, or of the conductors in a cable. */
export type ReadInsulation = 'TW' | 'THW' | 'THWN' | 'THHN' | 'THWN-2' | 'XHHW' | 'XHHW-2' | 'USE-2' | 'NM-B' | 'NM' | 'RHW' | 'RHW-2' | 'UF';

/** How conductors are run. */
export type ReadWiringMethod = 'NM' | 'AC' | 'MC' | 'SER' | 'SEU' | 'UF' | 'USE' | 'EMT' | 'RMC' | 'PVC-40' | 'PVC-80' | 'FMC' | 'ENT' | 'LFNC-B' | 'knob-and-tube' | 'other';

/** One branch circuit. A shared-neutral set is two circuits that name each other in `shared_with`. */
export interface ReadCircuit {
  id: string;
  change: ScopeChange;
  /** Words for schedule and directory, for example `northeast bedroom receptacles`. */
  serves: string;
  /** Board it starts in. */
  board: string;
  /** Spaces it takes; a tandem half is the space with `A` or `B`, for example `"14A"`. */
  spaces: ReadFact<string[]>;
  /** It stays in these spaces, for example because its conductors are too short for others. */
  pinned: boolean;
  /** Where its cable enters the cabinet. */
  entry: ReadEntry | null;
  /** Free conductor from that entry. */
  reach: ReadFact</* in in */ number>;
  /** Poles of its breaker. */
  poles: number;
  /** Breaker rating. */
  amps: ReadFact</* in A */ number>;
  /** Protection its breaker or first device gives. */
  protection: ReadFact<ReadProtection>;
  /** Where that protection sits. */
  protection_at: ReadFact<ReadProtectionAt>;
  /** Ungrounded conductors. */
  wire: ReadFact<string>;
  /** Wiring method at the panel. */
  method: ReadFact<ReadWiringMethod>;
  /** Has an equipment grounding conductor or a recognized metal path. */
  ground: ReadFact<boolean>;
  /** The other circuit of a shared-neutral set. */
  shared_with: ReadCircuitId | null;
  /** What it is for, as the load calculation counts circuits. */
  purpose: ReadPurpose;
  /** Rooms or areas whose outlets it supplies; tags of the fact dictionary. */
  rooms: ReadFact<string[]>;
  /** Outlets on it. */
  outlets: ReadFact<number>;
  /** Loads on it. */
  loads: ReadLoadId[];
  /** Calculated or measured load on it, where that is better known than by its loads. */
  load_va: ReadFact</* in VA */ number>;
  /** Part of its load that runs three hours or more at a time. */
  continuous_va: ReadFact</* in VA */ number>;
  /** Where its home run comes from on the wall, before it turns to the board. */
  home_run: Point | null;
  /** After picture only: one-way length of the cable of a new or rewired circuit. */
  length: ReadFact</* in ft */ number>;
  /** Spare conductor length in the old cabinet. */
  slack: ReadFact</* in in */ number>;
  /** After picture only: length added outside cabinets and boxes, where it was measured rather than worked out. */
  added_outside: ReadFact</* in in */ number>;
  /** After picture only: length added in all. */
  added_total: ReadFact</* in in */ number>;
  /** After picture only: the old cable is only cut shorter. */
  cut_shorter: ReadFact<boolean>;
  /** After picture only: outlets or devices are added (splices do not count). */
  outlets_added: ReadFact<boolean>;
  /** What the household cannot do without, and for how long it may be dark. */
  critical: ReadCritical | null;
  /** What makes work on it dangerous or slow. */
  hazards: ReadHazard[];
  /** After picture only: taken out. */
  gone: boolean;
  /** Further facts by their dictionary name (`circuit.`, `ev.`, without the prefix). */
  facts: { [name: string]: ReadFact<Stated> };
}

/** Where a cable enters a cabinet. */
export interface ReadEntry {
  /** Side of the cabinet. */
  side: ReadSide;
  /** From its left end, or from its upper end for the left and right side. */
  along: number;
}

/** Sides of a cabinet, seen from the front. */
export type ReadSide = 'top' | 'bottom' | 'left' | 'right';

/** Protection beyond overcurrent. */
export type ReadProtection = 'none' | 'afci' | 'gfci' | 'dual';

/** Where a protection sits. */
export type ReadProtectionAt = 'breaker' | 'outlet';

/** A branch circuit. */
export type ReadCircuitId = string;

/** What a circuit is for. */
export type ReadPurpose = 'general' | 'small_appliance' | 'laundry' | 'bathroom' | 'garage' | 'individual' | 'vehicle_charging' | 'smoke_alarms' | 'spare';

/** A load. */
export type ReadLoadId = string;

/** What cannot be dark for long. */
export interface ReadCritical {
  /** Why, for example `sump pump`. */
  why: string;
  /** Longest dark time the household can bear. */
  longest_dark: ReadFact</* in h */ number>;
}

/** What makes work on a circuit dangerous or slow. */
export type ReadHazard = 'aluminum_branch' | 'knob_and_tube' | 'brittle_insulation' | 'ungrounded' | 'overheated' | 'short_conductors' | 'mixed_neutral';

/** One appliance or machine, or several alike. */
export interface ReadLoad {
  id: string;
  change: ScopeChange;
  /** What it is, for the load calculation. */
  kind: ReadLoadKind;
  /** Words for worksheets and directory, for example `wall oven, upper`. */
  name: string;
  /** Nameplate volt-amperes of one. */
  va: ReadFact</* in VA */ number>;
  /** Nameplate amperes of one, where the plate gives no VA; used with `volts`. */
  amps: ReadFact</* in A */ number>;
  /** Nameplate voltage. */
  volts: ReadFact</* in V */ number>;
  /** How many alike. */
  count: number;
  /** Motor horsepower, where a motor is the load or the largest part of it; the amperes then come from the motor table or the plate. */
  horsepower: ReadFact<number>;
  /** Heating: separately controlled units among `count`. For a central unit leave it out. */
  separately_controlled: boolean;
  /** Heat pump: true when the compressor cannot run together with the supplementary heat. */
  compressor_locked_out: ReadFact<boolean>;
  /** True when the load runs three hours or more at a time. */
  continuous: ReadFact<boolean>;
  /** True when the load uses the neutral (a 120 V part). */
  uses_neutral: ReadFact<boolean>;
  /** Setting of a listed load-management system that limits this load, if there is one. */
  managed_limit: ReadFact</* in A */ number>;
  /** True when the load does not exist yet: a wish of the customer, counted for spare capacity only. */
  future: boolean;
  /** After picture only: taken out. */
  gone: boolean;
}

/** The groups that load calculations treat apart. */
export type ReadLoadKind = 'range' | 'wall_oven' | 'cooktop' | 'dryer' | 'water_heater' | 'dishwasher' | 'disposer' | 'microwave' | 'refrigerator' | 'fixed_appliance' | 'motor' | 'well_pump' | 'sump_pump' | 'spa' | 'cooling' | 'heat_pump' | 'supplemental_heat' | 'space_heat' | 'storage_heat' | 'blower' | 'vehicle_charger';

/** An outlet that matters by itself: a receptacle, or a hardwired appliance's point. */
export interface ReadOutlet {
  id: string;
  change: ScopeChange;
  /** Circuit it is on. */
  circuit: string;
  /** Words for papers. */
  name: string;
  /** It is a receptacle, not a hardwired point. */
  receptacle: ReadFact<boolean>;
  /** Places that ask for ground-fault protection; tags of the fact dictionary. */
  place: ReadFact<string[]>;
  /** Appliance it feeds; tags of the fact dictionary. */
  appliance: ReadFact<string[]>;
  /** After picture only: the device is replaced. */
  replaced: boolean;
  /** After picture only: taken out. */
  gone: boolean;
  /** Further facts by their dictionary name (`receptacle.`, `outlet.`, without the prefix). */
  facts: { [name: string]: ReadFact<Stated> };
}

/** A source besides the utility. */
export interface ReadSource {
  id: string;
  change: ScopeChange;
  /** Kind. */
  kind: ReadSourceKind;
  /** Board its breaker is in. */
  board: string;
  /** Rated output current of an inverter. */
  output: ReadFact</* in A */ number>;
  /** Its breaker. */
  breaker: ReadFact</* in A */ number>;
  /** Spaces its breaker is in. */
  spaces: ReadFact<number[]>;
  /** Its breaker is at the end of the bus away from the main. */
  opposite_end: ReadFact<boolean>;
  /** After picture only: taken out. */
  gone: boolean;
  /** Further facts by their dictionary name (`source.`, without the prefix). */
  facts: { [name: string]: ReadFact<Stated> };
}

/** Kinds of source. */
export type ReadSourceKind = 'photovoltaic' | 'battery' | 'generator';

/** One wall. */
export interface ReadWall {
  id: string;
  change: ScopeChange;
  /** Left end on the floor plan, as one faces the wall. */
  from: ReadPlanPoint | null;
  /** Right end on the floor plan. */
  to: ReadPlanPoint | null;
  /** Length, where there is no floor plan. */
  length: number | null;
  /** The wall on whose other side it is: cables pass straight through the studs they share. Both need their ends on the floor plan. */
  back_of: string | null;
  /** Clear height from floor to ceiling. */
  height: ReadFact</* in in */ number>;
  /** Height of its floor over the job's lowest floor; 0 in a house on one level. */
  floor: number;
  /** What kind of place lies in front of it; tags of the fact dictionary, as for the location of a board. */
  location: ReadFact<string[]>;
  /** Clear depth straight out from its face. */
  clear_depth: ReadFact</* in in */ number>;
  /** The wall goes on or ends free at its left: the space in front of it is not closed by a corner there. */
  open_left: boolean;
  /** The same at its right. */
  open_right: boolean;
  /** What is in it, on it or opposite. */
  obstacles: ReadObstacle[];
  /** Stretches where another kind of place lies in front, or where no panel may go for a reason of the house. */
  stretches: ReadStretch[];
  /** Facts about any panel on this wall by their dictionary name (`panel.`, without the prefix), for example `ws_lit`. */
  facts: { [name: string]: ReadFact<Stated> };
}

/** A point on the floor plan. */
export interface ReadPlanPoint {
  /** Across the plan. */
  x: number;
  /** Up the plan. */
  y: number;
}

/** Something in, on or opposite a wall. */
export interface ReadObstacle {
  /** What it is, for example `bathroom door`. */
  what: string;
  /** Its left edge along the wall. */
  from: number;
  /** Its right edge along the wall. */
  to: number;
  /** Its lower edge above the floor. */
  bottom: number;
  /** Its upper edge above the floor. Left out, it reaches the ceiling. */
  top: number | null;
  /** How far it stands out from the wall, or a door leaf sweeps in front of it. 0 is in the wall: a doorway, a window, a pipe. */
  stands_out: number;
  /** Where it stands opposite the wall: the clear distance to it. 0 is at the wall. */
  opposite_at: number;
}

/** A part of a wall. */
export interface ReadStretch {
  /** Its left end along the wall. */
  from: number;
  /** Its right end along the wall. */
  to: number;
  /** What lies in front of it besides what lies in front of the wall; tags of the fact dictionary, for example `over_stair_steps`. */
  location: string[];
  /** Why no panel may go there, where that is not a matter of the code, for example `tile the customer wants kept`. */
  kept_free: string | null;
}

/** Where cables run from one wall to another. */
export type ReadRuns = 'above' | 'below';

/** The plan of the cut-over. */
export interface ReadPlan {
  /** People at work, 1 to 3. */
  workers: number;
  /** One shutdown, or the new panel alive beside the old one first. */
  approach: Approach;
  /** Time of day the crew arrives. Left out, the plan counts hours from arrival. */
  start: string | null;
  /** Hours the crew works on one day, counted from `start`. */
  shift: number;
  /** Between which times the utility disconnects and reconnects. Only a job that needs the utility uses it. */
  utility_window: ReadWindow | null;
  /** Circuits whose loads get power from elsewhere while the panel is dead. */
  temporary_power: ReadCircuitId[];
  /** New panel first: a second feeder, or a temporary one, can run beside the old one. */
  second_feeder: ReadFact<boolean>;
  /** New panel first: where a circuit is taken over. */
  transfer: ReadFact<ReadTransfer>;
  /** One shutdown: split it in two, with at least this pause between, in which the circuits landed so far are live. */
  restore_round: number | null;
  /** A circuit whose breaker closes only after that of another: `alarm-panel = "router"`. */
  follows: { [name: string]: ReadCircuitId };
  /** What an hour of darkness weighs, by kind of circuit. */
  weights: ReadWeights;
  /** What an hour of darkness weighs for single circuits, in place of its kind's. */
  weight_of: { [name: string]: number };
}

/** A span of a day. */
export interface ReadWindow {
  /** From. */
  from: string;
  /** To. */
  to: string;
}

/** Where a circuit is taken over from the old panel to the new one. */
export type ReadTransfer = 'own_box' | 'old_cabinet';

/** What an hour of darkness weighs. Our own judgement; no source. */
export interface ReadWeights {
  /** A circuit named as critical. */
  critical: number;
  /** Smoke alarms. */
  alarms: number;
  /** What keeps food, heat or water: refrigerator, pumps, blower, heat. */
  keeping: number;
  /** Everything else. */
  ordinary: number;
  /** Vehicle charging, spa, and circuits kept for later. */
  can_wait: number;
}

/** The offer of a job. */
export interface ReadOffer {
  /** Options chosen, by their names in the price book. */
  options: string[];
  /** Settings for this job alone, by their names in the price book, for example `margin = 15`. */
  settings: { [name: string]: ReadSetting };
}

/** Value of a setting. */
export type ReadSetting = number | string;

/** What a sweep of places tries. Everything may be left out. */
export interface ReadCandidates {
  /** Board that is to move. Left out, the only board that the after picture moves. */
  board: ReadBoardId | null;
  /** Walls to try. Left out, every wall of the after picture. */
  walls: string[];
  /** Step along a wall. */
  step: number | null;
  /** Lower edge of the cabinet above the floor. Left out, that of the planned position, else that of the old one. */
  bottom: number | null;
  /** What may become of the old cabinet. Left out, what the after picture plans, else both ways are tried. */
  old_cabinet: ReadOldCabinet[];
  /** Farthest along framing from the old place. */
  farthest: number | null;
}

/** A panelboard, disconnect or other board. */
export type ReadBoardId = string;

/** The answer to `edit`. */
export interface EditAnswer {
  /** Number of the form, 1. */
  format: number;
  /** `edit`. */
  command: EditCommand;
  /** The text of the job file as it is now. */
  job: string;
}

/** `edit`. */
export type EditCommand = 'edit';

/** The answer to `start`. */
export interface StartAnswer {
  /** Number of the form, 1. */
  format: number;
  /** `start`. */
  command: StartCommand;
  /** The text of the new job file. */
  job: string;
}

/** `start`. */
export type StartCommand = 'start';

/** The answer to `paste`. */
export interface PasteAnswer {
  /** Number of the form, 1. */
  format: number;
  /** `paste`. */
  command: PasteCommand;
  /** Each row below the header. */
  rows: PastedRow[];
  /** Columns that no circuit has, left out. */
  ignored: string[];
  /** The job with the circuits in it; `null` while a row is wrong. */
  job: string | null;
}

/** `paste`. */
export type PasteCommand = 'paste';

/** One row. */
export type PastedRow = {
  /** Number of the row, the header being 1. */
  row: number;
  /** Name of the circuit in the job file. */
  id: string;
  /** What cannot be read. */
  mistakes: CellMistake[];
} & { [name: string]: unknown };

/** A cell that cannot be read. */
export interface CellMistake {
  /** Words over its column. */
  column: string;
  /** What was found. */
  found: string;
  /** What was expected. */
  expected: string;
}

/** The answer to `board`. */
export interface BoardAnswer {
  /** Number of the form, 1. */
  format: number;
  /** `board`. */
  command: BoardCommand;
  /** The board. */
  board: string;
  /** As it is; `null` where it is new. */
  before: BoardAsStated | null;
  /** As it is planned; `null` where it goes. */
  after: BoardAsStated | null;
}

/** `board`. */
export type BoardCommand = 'board';

/** A board with everything on it. */
export interface BoardAsStated {
  /** Its spaces by column and row; none while nobody says how many there are. */
  spaces: SpaceOnFace[];
  /** Everything on it, by name. */
  things: { [name: string]: ThingOnBoard };
  /** Outside width of its cabinet, the usual one where nobody measured it, inches. */
  width_in: number;
  /** Outside height of its cabinet, inches. */
  height_in: number | null;
}

/** One thing on a board, with a space or without. */
export interface ThingOnBoard {
  /** What sort of thing. */
  kind: KindOnBoard;
  /** What it serves. */
  serves: string;
  /** Rating of its breaker. */
  amps: number | null;
  /** Spaces it takes. */
  poles: number;
  /** It stays where it is. */
  pinned: boolean;
  /** Its spaces as the job states them, `19A` for half of one; none where nobody says. */
  spaces: string[];
}

/** Sorts of things on a board. */
export type KindOnBoard = 'circuit' | 'feeder' | 'source' | 'device';

/** The answer to `layout`. */
export interface LayoutAnswer {
  /** Number of the form, 1. */
  format: number;
  /** `layout`. */
  command: LayoutCommand;
  /** Nothing is wrong with it. */
  legal: boolean;
  /** What is wrong, by circuit. */
  refused: RefusedSeat[];
  /** What has no space yet. */
  unplaced: string[];
  /** Loads of both legs, of what has a legal space. */
  legs: Legs;
  /** Difference between the legs' loads, VA. */
  imbalance: number;
  /** How good it is by the face's own measure; `null` while something is wrong or has no space. */
  score: FaceScore | null;
  /** The edits that put it into the picture after the work; none while something is wrong. */
  edits: Edit[];
}

/** `layout`. */
export type LayoutCommand = 'layout';

/** What is wrong with the spaces of a circuit. */
export interface RefusedSeat {
  /** Circuit, feeder, source or device. */
  circuit: string;
  /** Why, in a sentence. */
  why: string;
}

/** The answer when something is wrong. */
export interface ErrorAnswer {
  /** Number of the form, 1. */
  format: number;
  /** Something is wrong. */
  command: 'error';
  /** At least one. */
  mistakes: Mistake[];
}

/** One mistake. */
export interface Mistake {
  line: number;
  /** In characters. */
  column: number;
  found: string;
  /** What was expected, or what to do. */
  expected: string;
  /** The line itself, where the mistake is in the job's text. */
  excerpt?: string;
}

/** A question; its `command` tells what is asked. */
export type Question = JobQuestion | EditQuestion;

/** A question. */
export interface JobQuestion {
  command: 'check' | 'face' | 'move' | 'cutover' | 'price';
  /** The job. */
  job: JobText;
  /** Another edition than the job's. */
  edition?: Edition | null;
  /** Of a face or a move: the board. */
  board?: string | null;
  /** Of a face: most steps of search. */
  effort?: number | null;
  /** Of a move: step along a wall, inches. */
  step_in?: number | null;
  /** Of a price: the customer's view, without cost. */
  customer?: boolean;
  /** The drawing as well, where there is one. */
  drawing?: boolean;
}

/** A job as it is handed in. */
export type JobText = string | { [name: string]: unknown };

/** A question about changes. The job comes as the text of its file, since the text is what is changed. */
export type EditQuestion = {
  command: 'read';
  /** Text of the job file. */
  job: string;
} | {
  command: 'edit';
  /** Text of the job file. */
  job: string;
  /** What to change, one after the other. */
  edits: Edit[];
} | {
  command: 'start';
  /** What was said. */
  interview: Interview;
} | {
  command: 'paste';
  /** Text of the job file. */
  job: string;
  /** Board they start in. */
  board: string;
  /** Picture they belong to. */
  picture: Picture;
  /** Rows with a header line; cells between tabs, semicolons or commas. */
  rows: string;
} | {
  command: 'board';
  /** Text of the job file. */
  job: string;
  /** The board. */
  board: string;
} | {
  command: 'layout';
  /** Text of the job file. */
  job: string;
  /** The board; left out, the usual one. */
  board?: string | null;
  /** Spaces of what is arranged anew; everything else has those that the job states. */
  spaces?: { [name: string]: string[] };
};

/** What was said. Everything may be left out, and asked later; only the edition may not, for nothing may choose it silently. */
export interface Interview {
  /** Is the service touched? */
  service_touched?: boolean | null;
  /** One line for lists and papers. */
  title?: string;
  /** Why the customer called. */
  reason?: string;
  /** Who the customer is. */
  customer?: string;
  /** Street address. */
  address?: string;
  /** Two-letter state code. */
  state?: string;
  /** City or county. */
  city?: string;
  /** Edition adopted at the address. */
  edition?: string;
  /** Date of the permit application. */
  permit_date?: string;
  /** Kind of dwelling; bare, `{ is, by }` or `"unknown"`, like every fact below. */
  kind?: unknown;
  /** Floor area by outside dimensions, square feet. */
  area?: unknown;
  /** Year built. */
  year_built?: unknown;
  /** Panels there are, the one at the service first when the service is touched or stays in view. */
  boards?: InterviewBoard[];
}

/** A panel, as the customer tells. */
export interface InterviewBoard {
  /** Its name in the job file; left out, made from its words. */
  id?: string;
  /** Words for papers. */
  name?: string;
  /** Bus rating, amperes. */
  bus?: unknown;
  /** How the supply lands on it. */
  main?: unknown;
  /** Full-size spaces. */
  spaces?: unknown;
  /** Board it is fed from, or `utility`. */
  fed_from?: string | null;
  /** A new one takes its place. Left out, it follows from the first question where only one panel can be meant. */
  replaced?: boolean | null;
}

/** One of the two pictures. */
export type Picture = 'before' | 'after';

/** What is answered to each command when nothing is wrong. */
export interface AnswerTo {
  check: CheckAnswer;
  face: FaceAnswer;
  move: MoveAnswer;
  cutover: CutoverAnswer;
  price: PriceAnswer;
  read: ReadAnswer;
  edit: EditAnswer;
  start: StartAnswer;
  paste: PasteAnswer;
  board: BoardAnswer;
  layout: LayoutAnswer;
}
