// What the build fills in.

/** Where the worker stands: "/worker-HASH.js". */
declare const WORKER_URL: string;

/** Where early.ts stands: "/early-HASH.js". */
declare const EARLY_URL: string;

declare module "*.css";
