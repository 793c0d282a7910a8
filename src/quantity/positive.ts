// The one check every formula of this folder asks for.

/**
 * Refuse sizes, masses and moduli that are not positive.
 * @param name   function that needs them, for the message
 * @param values by the names the caller knows
 * @throws RangeError naming function, value and need
 */
export function needPositive(name: string, values: Readonly<Record<string, number>>): void {
  for (const [key, value] of Object.entries(values)) {
    if (!(value > 0 && Number.isFinite(value))) throw new RangeError(`${name}: ${key} ${value}, need > 0`);
  }
}
