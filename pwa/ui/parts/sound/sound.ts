// Two pitches: a higher one to start, a lower one to stop. They are made here, by the browser's own oscillator, and only after a
// touch has allowed it. Vibration goes with them where there is any.

export type Cue = "start" | "stop";

const pitches: { [cue in Cue]: number } = { start: 880, stop: 440 };
const shakes: { [cue in Cue]: number[] } = { start: [220], stop: [90, 70, 90] };
const SECONDS = 0.32;
const LOUD = 0.4;

let context: AudioContext | undefined;

/** Call it within a touch: a browser lets a page be heard only then. */
export function allowSound(): void {
  try {
    context ??= new AudioContext();
    if (context.state === "suspended") context.resume().catch(() => {});
  } catch {
    // no sound on this device: the screen says everything
  }
}

export function sound(cue: Cue): void {
  if (context?.state !== "running") return;
  const now = context.currentTime;
  const loud = context.createGain();
  loud.gain.setValueAtTime(0, now);
  loud.gain.linearRampToValueAtTime(LOUD, now + 0.02);
  loud.gain.setValueAtTime(LOUD, now + SECONDS - 0.08);
  loud.gain.linearRampToValueAtTime(0, now + SECONDS);
  const tone = context.createOscillator();
  tone.frequency.value = pitches[cue];
  tone.connect(loud).connect(context.destination);
  tone.start(now);
  tone.stop(now + SECONDS);
}

export function shake(cue: Cue): void {
  navigator.vibrate?.(shakes[cue]);
}
