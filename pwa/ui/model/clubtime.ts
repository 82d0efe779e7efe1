// The club's time is the server's. This phone's clock may be off; what is shown and typed here is this phone's, what is
// sent is the server's.

import { useView } from "./core.ts";

export interface ClubTime {
  toPhone(at: number): number;
  toServer(at: number): number;
}

export function useClubTime(): ClubTime {
  const offset = useView("sync").value?.offset ?? 0;
  return { toPhone: (at) => at - offset, toServer: (at) => at + offset };
}
