import { expect, test } from 'vitest';
import { airDensity, soundSpeed, type Weather } from '../../src/box/air.ts';
import checks from './air-checks.json' with { type: 'json' };

const weather = (inputs: { T_C: number; RH?: number; p_Pa?: number }): Weather => ({
  tempC: inputs.T_C,
  humidityPercent: 100 * (inputs.RH ?? 0),
  pressurePa: inputs.p_Pa ?? 101_325,
});
const starting = (prefix: string) => checks.filter(({ id }) => id.startsWith(prefix));

// Read off Cramer's figure 1 to 0.1 m/s, there for 314 ppm of carbon dioxide; ours is for 400 ppm, 0.008 m/s lower.
test.each(starting('air-c-cramer-'))('$id: Cramer 1993, values of figure 1', ({ inputs, expected }) => {
  expect(Math.abs(soundSpeed(weather(inputs)) - expected)).toBeLessThan(0.1);
});

// The check took the vapour pressure of Cramer's appendix (Giacomo 1982), ours is CIPM-2007: 0.0004 m/s apart.
test.each(starting('air-c-cramerfit'))('$id: Cramer 1993 equation 15, worked value', ({ inputs, expected }) => {
  expect(Math.abs(soundSpeed(weather(inputs)) - expected)).toBeLessThan(1e-3);
});

// 1e-4 kg/m³ is the agreement between handbook and equation that the source itself reaches at 40 °C (6e-5).
test.each(starting('air-rho-cipm'))('$id: CIPM-2007, worked value', ({ inputs, expected }) => {
  expect(Math.abs(airDensity(weather(inputs)) - expected)).toBeLessThan(1e-4);
});

test.each(starting('air-rho-psychro'))(
  '$id: density of dry air of another real-gas equation',
  ({ inputs, expected }) => {
    expect(Math.abs(airDensity(weather(inputs)) - expected)).toBeLessThan(2e-4);
  },
);

test('humidity outside 0 to 100 % is the caller’s mistake', () => {
  expect(() => soundSpeed({ tempC: 20, humidityPercent: 101, pressurePa: 101_325 })).toThrow('101 % humidity');
});
