// Which fields the walk-through asks for, in the order one sees them. Units as in docs/job-file.md.
import type { FieldKind } from '../../parts/FactField.svelte';
import type { Key } from '../../words/words';

export type Field = { path: readonly string[]; label: Key; kind: FieldKind; unit?: string; choices?: string };

export const DWELLING: readonly Field[] = [
  { path: ['kind'], label: 'field.kind', kind: 'choice', choices: 'dwelling.kind' },
  { path: ['area'], label: 'field.area', kind: 'number', unit: 'sq ft' },
  { path: ['year_built'], label: 'field.year_built', kind: 'number' },
  { path: ['system'], label: 'field.system', kind: 'choice', choices: 'dwelling.system' },
  { path: ['units'], label: 'field.units', kind: 'number' },
  { path: ['small_appliance_circuits'], label: 'field.small_appliance_circuits', kind: 'number' },
  { path: ['laundry_circuits'], label: 'field.laundry_circuits', kind: 'number' },
];

export const BOARD: readonly Field[] = [
  { path: ['bus'], label: 'field.bus', kind: 'number', unit: 'A' },
  { path: ['main'], label: 'field.main', kind: 'choice', choices: 'boards.main' },
  { path: ['main_amps'], label: 'field.main_amps', kind: 'number', unit: 'A' },
  { path: ['spaces'], label: 'field.spaces', kind: 'number' },
  { path: ['neutral_bonded'], label: 'field.neutral_bonded', kind: 'yes_no' },
  { path: ['ground_bar'], label: 'field.ground_bar', kind: 'yes_no' },
  { path: ['location'], label: 'field.location', kind: 'choices', choices: 'boards.location' },
];

export const BOARD_MORE: readonly Field[] = [
  { path: ['poles_listed'], label: 'field.poles_listed', kind: 'number' },
  { path: ['neutral_terminals'], label: 'field.neutral_terminals', kind: 'number' },
  { path: ['short_circuit_rating'], label: 'field.short_circuit_rating', kind: 'number', unit: 'A' },
  { path: ['terminals'], label: 'field.terminals', kind: 'number', unit: '°C' },
  { path: ['cabinet', 'width'], label: 'field.cabinet.width', kind: 'number', unit: 'in' },
  { path: ['cabinet', 'height'], label: 'field.cabinet.height', kind: 'number', unit: 'in' },
  { path: ['cabinet', 'depth'], label: 'field.cabinet.depth', kind: 'number', unit: 'in' },
  { path: ['cabinet', 'mounting'], label: 'field.cabinet.mounting', kind: 'choice', choices: 'boards.cabinet.mounting' },
  { path: ['working_space', 'depth'], label: 'field.working_space.depth', kind: 'number', unit: 'in' },
  { path: ['working_space', 'width'], label: 'field.working_space.width', kind: 'number', unit: 'in' },
  { path: ['working_space', 'height'], label: 'field.working_space.height', kind: 'number', unit: 'in' },
  { path: ['working_space', 'highest_handle'], label: 'field.working_space.highest_handle', kind: 'number', unit: 'in' },
];

export const BOARD_AFTER: readonly Field[] = [
  { path: ['old_cabinet'], label: 'field.old_cabinet', kind: 'choice', choices: 'boards.old_cabinet' },
  { path: ['route_from_old'], label: 'field.route_from_old', kind: 'number', unit: 'in' },
];

export const FEEDER: readonly Field[] = [
  { path: ['breaker'], label: 'field.breaker', kind: 'number', unit: 'A' },
  { path: ['wires'], label: 'field.wires', kind: 'number' },
  { path: ['wire'], label: 'field.wire', kind: 'choice', choices: 'feeders.wire' },
  { path: ['neutral'], label: 'field.neutral', kind: 'choice', choices: 'feeders.neutral' },
  { path: ['ground'], label: 'field.ground', kind: 'choice', choices: 'feeders.ground' },
  { path: ['insulation'], label: 'field.insulation', kind: 'choice', choices: 'feeders.insulation' },
  { path: ['method'], label: 'field.method', kind: 'choice', choices: 'feeders.method' },
  { path: ['length'], label: 'field.length', kind: 'number', unit: 'ft' },
];

export const CIRCUIT: readonly Field[] = [
  { path: ['amps'], label: 'field.amps', kind: 'number', unit: 'A' },
  { path: ['wire'], label: 'field.wire', kind: 'choice', choices: 'circuits.wire' },
  { path: ['method'], label: 'field.method', kind: 'choice', choices: 'circuits.method' },
  { path: ['ground'], label: 'field.has_ground', kind: 'yes_no' },
  { path: ['protection'], label: 'field.protection', kind: 'choice', choices: 'circuits.protection' },
  { path: ['protection_at'], label: 'field.protection_at', kind: 'choice', choices: 'circuits.protection_at' },
  { path: ['outlets'], label: 'field.outlets', kind: 'number' },
  { path: ['slack'], label: 'field.slack', kind: 'number', unit: 'in' },
  { path: ['rooms'], label: 'field.rooms', kind: 'choices', choices: 'circuits.rooms' },
];
