// The first script of the page, a few kilobytes, run as soon as it is there.

import { beginWorker } from "./model/early.ts";
import { obstacle } from "./model/obstacle.ts";

if (!obstacle()) beginWorker();
