import { expect, it } from 'vitest';
import { factName } from './fact-name';

it('a fact is called by words, without prefix and unit', () => {
  expect(factName('feeder.ocpd_a')).toBe('breaker');
  expect(factName('feeder.next_std_above_ampacity_a')).toBe('next standard above ampacity');
  expect(factName('circuit.ext_outside_in')).toBe('extension outside');
  expect(factName('job.dwelling')).toBe('dwelling');
});
