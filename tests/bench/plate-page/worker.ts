// The plate as the page's worker has it: built by the same tools, away from the page's own thread.
import { type PlateQuestion, plateRuns } from '../plate-runs.ts';

const run = plateRuns();
self.onmessage = ({ data }: MessageEvent<PlateQuestion>) => self.postMessage(run(data));
