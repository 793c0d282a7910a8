/** What the page says aloud, for hands that are full. */
export const spoken = {
  pickUpAgain: 'Put it down, pick it up again.',
  spot: (n: number) => `Spot ${n}`,
  lowestMode: (frequencyHz: number) => `${Math.round(frequencyHz)} hertz`,
};
