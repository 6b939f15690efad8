import type { LiveEvent } from '$/bridge/types';
import { job } from './job.svelte';
import { listening } from './listening.svelte';
import { problems } from './problems.svelte';

/** Takes in what the core tells, in the order it happened. `showNextStep` brings the next step
 * into view: it was asked for by voice. */
export function takeIn(event: LiveEvent, showNextStep: () => void): void {
  switch (event.event) {
    case 'level':
      listening.loudness(event.mean_dbfs, event.peak_dbfs);
      if (event.speech && listening.phase === 'quiet') listening.phase = 'speech';
      break;
    case 'speech-began':
      listening.phase = 'speech';
      listening.soundLost = false;
      break;
    case 'speech-dropped':
      listening.phase = 'quiet';
      break;
    case 'working':
      listening.phase = 'working';
      break;
    case 'heard':
      listening.phase = 'quiet';
      listening.text = event.now.heard;
      job.heard(event.now);
      break;
    case 'job':
      job.take(event.job);
      break;
    case 'judged':
      job.judged(event.judgement);
      break;
    case 'next-step':
      showNextStep();
      break;
    case 'microphone':
      listening.became(event.microphone);
      break;
    case 'weights':
      listening.weights = event.weights;
      break;
    case 'sound-lost':
      listening.soundLost = true;
      break;
    case 'failed':
      problems.show(event.problem);
      break;
  }
}
