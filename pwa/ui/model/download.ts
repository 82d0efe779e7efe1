// Hands a file to the person: to another app where the browser can, else as a download. Both work without a network.

/** The browser's sheet to send a file with, where there is one. */
export function canSend(file: File): boolean {
  return navigator.canShare?.({ files: [file] }) ?? false;
}

/** Says whether the file was handed over; the person may close the sheet. */
export async function sendFile(file: File): Promise<boolean> {
  try {
    await navigator.share({ files: [file], title: file.name });
    return true;
  } catch {
    return false;
  }
}

export function download(file: File): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(file);
  link.download = file.name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000); // some browsers read it only after a question of their own
}

/** 2026-11-25, by this phone's clock: for a file's name. */
export function dayOf(millis: number): string {
  const date = new Date(millis);
  const two = (value: number) => String(value).padStart(2, "0");
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}
