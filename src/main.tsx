// Starts the page: joins the program to the browser it runs in.

import './views/page.css';

import { render } from 'preact';
import { Updates } from './app/updates.ts';
import { createWorkshop } from './app/workshop.ts';
import { Feedback } from './capture/feedback.ts';
import { listMicrophones, onMicrophonesChanged, openMicrophone } from './capture/microphone.ts';
import { Playback } from './capture/playback.ts';
import { keepAwake, onPresence } from './capture/presence.ts';
import { readFile, saveFile, shrinkPhoto } from './storage/files.ts';
import {
  askToPersist,
  canChooseFolder,
  changeCopies,
  chooseFolder,
  chosenFolder,
  forgetFolder,
  isPersisted,
  loadCopies,
  openFolder,
  usedBytes,
} from './storage/keeping.ts';
import { loadCards, putCards } from './storage/library-cards.ts';
import { registerOfflineWorker } from './storage/offline-worker.ts';
import { loadSettings, saveSettings } from './storage/settings.ts';
import { records } from './storage/shelf.ts';
import { getPhoto, getTaps, putPhoto, putTaps, removeSounds, soundIds } from './storage/sounds.ts';
import { AppView } from './views/app-view.tsx';
import { words } from './views/words/language.ts';

/** How long the page waits for what is stored before it shows itself without. */
const longestWaitMs = 2000;

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

const tabs = new BroadcastChannel('platewright');

const workshop = createWorkshop({
  ...records,
  announce: (recordId) => tabs.postMessage(recordId),
  loadSettings,
  saveSettings,
  loadCards,
  putCards,
  getTaps,
  putTaps,
  getPhoto,
  putPhoto,
  soundIds,
  removeSounds,
  loadCopies,
  changeCopies,
  isPersisted,
  askToPersist,
  usedBytes,
  canChooseFolder,
  chosenFolder,
  chooseFolder,
  forgetFolder,
  openFolder,
  readFile,
  saveFile: (name, type, bytes) => saveFile(name, type, new Uint8Array(bytes)),
  shrinkPhoto,
  openMicrophone,
  listMicrophones,
  onMicrophonesChanged,
  sentence: (spoken) => {
    switch (spoken.kind) {
      case 'pick-up-again':
        return words.spoken.pickUpAgain;
      case 'spot':
        return words.spoken.spot(spoken.number);
      case 'lowest-mode':
        return words.spoken.lowestMode(spoken.frequencyHz);
    }
  },
  keepAwake,
  feedback: new Feedback(),
  playback: new Playback(),
  hash: location.hash,
  updates: new Updates(registerOfflineWorker),
  nowIso: () => new Date().toISOString(),
  newId: () => crypto.randomUUID(),
});

tabs.onmessage = (event: MessageEvent<string>) => void workshop.shelf.changedElsewhere(event.data);
window.addEventListener('hashchange', () => workshop.place.read(location.hash));
onPresence((visible) => {
  workshop.bench.presence(visible);
  workshop.shapes.now.peek()?.roving.presence(visible);
});

const root = document.getElementById('app');
if (root === null) throw new Error('main: no element #app in index.html');

// Not awaited by the module itself: parts that are fetched later wait for the module they share code with.
void start(root);

async function start(into: HTMLElement): Promise<void> {
  const begun = workshop.begin();
  // A frame that is filled a moment later would jump under the hand; storage that never answers must not keep it away.
  await Promise.race([begun, pause(longestWaitMs)]);
  // In a turn of its own: a hand on the page waits for the longest turn.
  await pause(0);
  into.replaceChildren();
  render(<AppView workshop={workshop} />, into);
  await begun;
  document.documentElement.dataset['ready'] = 'yes';
  // When everything can be used: what is stored is looked through, and whether it is safe.
  await workshop.keeping.load();
  await workshop.checkup.atStart();
}
