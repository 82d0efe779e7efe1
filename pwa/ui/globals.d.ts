// What the build fills in.

/** Where the worker stands: "/worker-HASH.js". */
declare const WORKER_URL: string;

declare module "*.css";
