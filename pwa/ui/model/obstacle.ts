/** Why the app cannot run here, if it cannot. */
export function obstacle(): "insecure" | "wasm" | "storage" | undefined {
  if (!isSecureContext) return "insecure";
  if (typeof WebAssembly !== "object") return "wasm";
  if (!("indexedDB" in globalThis) || !("locks" in navigator)) return "storage";
  return undefined;
}
