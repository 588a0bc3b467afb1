// On which day and at what time of day does something happen?
// Source: the cut-over answer: hours from the crew's arrival on the first day, nights included.

export interface Span {
  from_h: number;
  to_h: number;
}

export interface Day {
  /** 1 is the first day. */
  number: number;
  from_h: number;
  to_h: number;
}

/** Each day on which something is done, from the arrival to the end of its last task. */
export function days(tasks: readonly Span[]): Day[] {
  const all = new Map<number, Day>();
  for (const task of tasks) {
    const number = dayOf(task.from_h);
    const day = all.get(number);
    if (day) day.to_h = Math.max(day.to_h, task.to_h);
    else all.set(number, { number, from_h: 24 * (number - 1), to_h: task.to_h });
  }
  return [...all.values()].sort((a, b) => a.number - b.number);
}

export function dayOf(hours: number): number {
  return Math.floor(hours / 24) + 1;
}

/** `HH:MM` of an hour after arrival at `start`; without a start, hours and minutes from the day's arrival. */
export function clock(hours: number, start: string | null): string {
  const [hour = 0, minute = 0] = start ? start.split(':').map(Number) : [];
  const minutes = Math.round(hours * 60) + hour * 60 + minute;
  const ofDay = minutes % (24 * 60);
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${start ? '' : '+'}${two(Math.floor(ofDay / 60))}:${two(ofDay % 60)}`;
}

/** `5 h 32 min`. */
export function lasting(hours: number): { hours: number; minutes: number } {
  const minutes = Math.round(hours * 60);
  return { hours: Math.floor(minutes / 60), minutes: minutes % 60 };
}

/** The part of a span that falls into a day; a night in the dark reaches to the day's end and begins the next. */
export function within(span: Span, day: Day): Span | null {
  const from_h = Math.max(span.from_h, day.from_h);
  const to_h = Math.min(span.to_h, day.to_h);
  return to_h > from_h ? { from_h, to_h } : null;
}

/** Whole hours of a day, for the lines of its scale. */
export function ticks(day: Day): number[] {
  const all: number[] = [];
  for (let hour = Math.ceil(day.from_h); hour <= day.to_h; hour += 1) all.push(hour);
  return all;
}

export interface TaskOf extends Span {
  step: string;
  subject: string;
  what: string;
  worker: number;
  circuits: string[];
}

export interface Stretch extends Span {
  step: string;
  tasks: TaskOf[];
}

/** One worker's tasks, neighbours of the same step as one stretch. */
export function stretches(tasks: readonly TaskOf[], worker: number): Stretch[] {
  const own = tasks.filter((task) => task.worker === worker).sort((a, b) => a.from_h - b.from_h);
  const all: Stretch[] = [];
  for (const task of own) {
    const last = all.at(-1);
    if (last && last.step === task.step && task.from_h - last.to_h < 1e-6) {
      last.to_h = task.to_h;
      last.tasks.push(task);
    } else {
      all.push({ step: task.step, from_h: task.from_h, to_h: task.to_h, tasks: [task] });
    }
  }
  return all;
}
