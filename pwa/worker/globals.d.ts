// What the Go toolchain's wasm_exec.js puts on the global object, and what the build fills in.

declare class Go {
  env: Record<string, string>;
  importObject: WebAssembly.Imports;
  run(instance: WebAssembly.Instance): Promise<void>;
}

declare module "wasm_exec";

/** Where the compiled core stands: "/core-HASH.wasm". */
declare const CORE_URL: string;
