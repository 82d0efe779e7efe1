// What this browser can and may: install, keep storage, run at all.

import { signal } from "@preact/signals";
import { command } from "./core.ts";

export const installed = (): boolean =>
  matchMedia("(display-mode: standalone)").matches || (navigator as { standalone?: boolean }).standalone === true;

/** On an iPhone or iPad the installed app keeps another notebook than the browser. */
export const isApple = (): boolean =>
  /iPhone|iPad|iPod/.test(navigator.userAgent) || (navigator.platform === "MacIntel" && navigator.maxTouchPoints > 1);

interface InstallPrompt extends Event {
  prompt(): Promise<void>;
}

/** The browser offers to install; undefined when it does not, or has. */
export const installPrompt = signal<InstallPrompt | undefined>(undefined);

export function listenForInstall(): void {
  addEventListener("beforeinstallprompt", (event) => {
    event.preventDefault();
    installPrompt.value = event as InstallPrompt;
  });
  addEventListener("appinstalled", () => {
    installPrompt.value = undefined;
    void reportStorage();
  });
}

const LOW_BYTES = 50 * 1024 * 1024;

/** Tells the core what the browser promises about storage. */
export async function reportStorage(): Promise<void> {
  if (!navigator.storage?.persisted) return;
  const [persisted, estimate] = await Promise.all([navigator.storage.persisted(), navigator.storage.estimate()]);
  const low = estimate.quota !== undefined && estimate.usage !== undefined && estimate.quota - estimate.usage < LOW_BYTES;
  await command("storage.report", { persisted, installed: installed(), low }).catch(() => {});
}

/** Asks the browser not to delete by itself. Some ask the person, so it is called when there is something to lose. */
export async function askToKeep(): Promise<boolean> {
  const kept = (await navigator.storage?.persist?.()) ?? false;
  await reportStorage();
  return kept;
}

/** Hands a link to another app, where the browser can; says whether it could. */
export async function sendLink(title: string, url: string): Promise<boolean> {
  if (!navigator.share) return false;
  try {
    await navigator.share({ title, url });
    return true;
  } catch {
    return false; // the person closed the sheet
  }
}
