// Starts the page: joins the program to the browser it runs in.

import { render } from 'preact';
import { createUpdates } from './app/updates.ts';
import { createWorkshop } from './app/workshop.ts';
import { Feedback } from './capture/feedback.ts';
import { listMicrophones, onMicrophonesChanged, openMicrophone } from './capture/microphone.ts';
import { keepAwake, onPresence } from './capture/presence.ts';
import { fetchBytes, readFile, saveFile, shrinkPhoto } from './storage/files.ts';
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
import './views/views.css';

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
  fetchBytes,
  saveFile: (name, type, bytes) => saveFile(name, type, new Uint8Array(bytes)),
  shrinkPhoto,
  openMicrophone,
  listMicrophones,
  onMicrophonesChanged,
  sentence: (spoken) =>
    spoken.kind === 'pick-up-anew' ? words.spoken.pickUpAnew : words.spoken.lowestMode(spoken.frequencyHz),
  keepAwake,
  feedback: new Feedback(),
  hash: location.hash,
  updates: createUpdates(registerOfflineWorker),
  nowIso: () => new Date().toISOString(),
  newId: () => crypto.randomUUID(),
});

tabs.onmessage = (event: MessageEvent<string>) => void workshop.shelf.changedElsewhere(event.data);
window.addEventListener('hashchange', () => workshop.place.read(location.hash));
onPresence((visible) => workshop.bench.presence(visible));

const root = document.getElementById('app');
if (root === null) throw new Error('main: no element #app in index.html');
root.replaceChildren();
render(<AppView workshop={workshop} />, root);

await workshop.begin();
document.documentElement.dataset['ready'] = 'yes';
// When everything can be used: what is stored is looked through, and whether it is safe.
await workshop.keeping.load();
await workshop.checkup.atStart();
