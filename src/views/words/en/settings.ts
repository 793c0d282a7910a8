/** What the maker prefers on this machine. */
export const settings = {
  title: 'Settings',
  version: (version: string) => `Platewright ${version}.`,
  licences: 'Licences of everything it is made of',
  lead: 'Kept on this machine, as you change them. They are in no record.',

  rounds: 'Rounds',
  holdsHint: 'Picking the piece up anew is the scatter that counts',
  spaceBar: 'The space bar starts and stops listening',

  listening: 'Microphone',
  microphone: 'Which one',
  anyMicrophone: 'As the browser has it',
  nameless: (n: number) => `Microphone ${n}`,
  namelessHint: 'The browser names them once you have listened for the first time.',
  gone: (name: string) => `${name === '' ? 'The one used last' : name} (not plugged in)`,
  goneHint:
    'It is not plugged in now. Listening takes another one, says so, and goes back to this one when it is there again.',
  loudEnoughHint:
    '12 dB suits most rooms. Less takes softer taps, whose figures are less sure; more keeps a noisy room from passing for taps.',
  loudestHint:
    '0 dB is as loud as the microphone can tell. Clipped taps are refused in any case, by their shape. Set it lower, to −3 say, where a sound card bends loud taps before it clips them.',
  backToUsual: 'Back to the usual limits',

  feedback: 'When a tap is kept',
  feedbackHint: 'The page does not listen while it sounds or speaks',
  feedbackChoices: {
    silent: 'Stay silent',
    tones: 'Sound a short tone',
    spoken: 'Tones, and speak where this browser has a voice',
  },

  hygrometer: 'Hygrometer',
  whichHygrometer: 'Which hygrometer',
  hygrometerOffsetHint: 'Hygrometers disagree: hold yours against a known one',
  hygrometerDoubtHint: '95 %, after the offset',

  tools: 'Ruler, caliper, scale',
  toolsLead: 'How far off each may well be (95 %). Offered with every new entry; each entry can have its own.',
  sandingHint: 'Between the thicknesser and the finished plate',

  looks: 'Units, looks, language',
  lengths: 'Lengths',
  lengthChoices: { mm: 'Millimetres', inch: 'Inches' },
  masses: 'Masses',
  massChoices: { g: 'Grams', oz: 'Ounces' },
  temperatures: 'Temperatures',
  temperatureChoices: { c: '°C', f: '°F' },
  theme: 'Light',
  themeChoices: { system: 'As the system', light: 'Light', dark: 'Dark, high contrast' },
  language: 'Language',
  makerName: 'Your name on reports',
  makerNameHint: 'Leave it empty for none',
};
