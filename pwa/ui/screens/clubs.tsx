// The clubs one is in, coming in, and beginning one.

import type { ClubLine } from "../gen/types.ts";
import { useView } from "../model/core.ts";
import { place } from "../model/router.ts";
import { Button } from "../parts/button/button.tsx";
import { ClubIcon, OnwardIcon } from "../parts/icons/icons.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { club } from "../words.ts";
import { JoiningList } from "./enter.tsx";

export function Clubs() {
  const seen = useView("clubs");
  return (
    <Shown seen={seen} title={club.title}>
      {({ clubs, joining }) => (
        <Page title={club.title}>
          {clubs.length === 0 && joining.length === 0 && (
            <div class="stack close">
              <p class="title">{club.none}</p>
              <p class="soft">{club.noneText}</p>
            </div>
          )}
          <ClubList clubs={clubs} />
          <JoiningList joining={joining} />
          <Button kind={clubs.length === 0 ? "primary" : "plain"} href={paths.enter}>
            {club.enter}
          </Button>
          <Button href={paths.clubNew}>{club.begin}</Button>
        </Page>
      )}
    </Shown>
  );
}

export function ClubsPane() {
  const clubs = useView("clubs").value?.clubs ?? [];
  return (
    <nav class="page" aria-label={club.title}>
      <header class="page-head">
        <p class="title">{club.title}</p>
      </header>
      <div class="page-body stack">
        <ClubList clubs={clubs} />
        <Button href={paths.enter}>{club.enter}</Button>
        <Button href={paths.clubNew}>{club.begin}</Button>
      </div>
    </nav>
  );
}

function ClubList({ clubs }: { clubs: readonly ClubLine[] }) {
  if (clubs.length === 0) return null;
  return (
    <ul class="list">
      {clubs.map((line) => (
        <li key={line.club}>
          <a class="list-row" href={paths.club(line.club)} aria-current={place.value.path === paths.club(line.club) ? "page" : undefined}>
            <ClubIcon />
            <span class="grow">
              <strong>{line.name || words.common.unnamed}</strong>
              <br />
              <span class="small soft">{lineWords(line)}</span>
            </span>
            <OnwardIcon />
          </a>
        </li>
      ))}
    </ul>
  );
}

function lineWords(line: ClubLine): string {
  const parts = [club.memberCount(line.members), words.role[line.role]];
  if (line.waitingSamples > 0) parts.push(club.waiting(line.waitingSamples));
  if (words.bookStatus[line.status]) parts.push(words.bookStatus[line.status]);
  return parts.filter(Boolean).join(", ");
}
