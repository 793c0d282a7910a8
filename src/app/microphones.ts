// The microphones to choose from, kept up to date while somebody looks at the list.
import { type ReadonlySignal, signal } from '@preact/signals';
import type { ListedMicrophone } from '../capture/microphone.ts';

export interface MicrophonePorts {
  listMicrophones(): Promise<readonly ListedMicrophone[]>;
  onMicrophonesChanged(changed: () => void): () => void;
}

export class Microphones {
  readonly list: ReadonlySignal<readonly ListedMicrophone[]>;

  private readonly state = signal<readonly ListedMicrophone[]>([]);
  private readonly ports: MicrophonePorts;

  constructor(ports: MicrophonePorts) {
    this.ports = ports;
    this.list = this.state;
  }

  /** Reads the list now and whenever it changes. @returns stops that */
  follow(): () => void {
    const read = () =>
      void this.ports.listMicrophones().then((list) => {
        this.state.value = list;
      });
    read();
    return this.ports.onMicrophonesChanged(read);
  }
}
