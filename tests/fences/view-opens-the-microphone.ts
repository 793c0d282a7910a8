import { openMicrophone } from '../capture/microphone.ts';
export const open = openMicrophone;
