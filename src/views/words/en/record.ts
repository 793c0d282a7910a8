/** The records: list, details, the way out and in. */
export const record = {
  title: 'Records',
  partsLabel: 'Parts of the record',
  parts: { list: 'Records', library: 'Library', report: 'Report' },
  loved: 'One of my best',
  lovedHint: 'The library can take its targets from these',
};
