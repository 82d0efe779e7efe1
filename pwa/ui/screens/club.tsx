// A club: who is in, its flights, its invitations, and what one may do there.

import { useState } from "preact/hooks";
import type { ClubMay, ClubView, InviteLine, Member } from "../gen/types.ts";
import { useMinute } from "../model/clock.ts";
import { useClubTime } from "../model/clubtime.ts";
import { command, useView } from "../model/core.ts";
import { go, type Params } from "../model/router.ts";
import { shareState } from "../model/share.ts";
import { formatMoment } from "../model/times.ts";
import { Button } from "../parts/button/button.tsx";
import { TextField } from "../parts/field/field.tsx";
import { OnwardIcon } from "../parts/icons/icons.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { Problem, StatusLine, useDoing } from "../parts/status/status.tsx";
import { Away, isAway } from "../parts/away/away.tsx";
import { Sure } from "../parts/sure/sure.tsx";
import { SyncMark } from "../parts/sync/sync.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { club } from "../words.ts";
import { FlightList } from "./flights.tsx";

export function Club({ params }: { params: Params }) {
  const seen = useView("club", { club: params.club ?? "" });
  return (
    <Shown seen={seen} title={club.title} above={paths.clubs}>
      {(view) => <Open view={view} />}
    </Shown>
  );
}

function Open({ view }: { view: ClubView }) {
  const may = (what: ClubMay) => view.may.includes(what);
  const status = words.bookStatus[view.status];
  return (
    <Page title={view.name || words.common.unnamed} above={paths.clubs} aside={club.host(view.host)} standing={view.status}>
      {isAway(view.status) ? <Away standing={view.status} /> : status && <StatusLine>{status}</StatusLine>}
      {may("resume") && (
        <section class="stack close">
          <p>{club.resumeText}</p>
          <Sure label={club.resume} question={club.resumeSure} onYes={() => command("book.resume", { club: view.club })} />
        </section>
      )}
      {may("invite") && (
        <Button kind={view.members.length < 2 ? "primary" : "plain"} href={paths.invite(view.club)}>
          {club.invite}
        </Button>
      )}
      <section class="stack close">
        <h2>{club.flights}</h2>
        {view.flights.length === 0 && <p class="soft">{words.flights.none}</p>}
        <FlightList club={view.club} list={view.flights} />
        {may("flight") && <Button href={paths.flightNew(view.club)}>{words.flights.begin}</Button>}
      </section>
      <Button href={paths.clubWater(view.club)}>{words.water.clubTitle}</Button>
      <Members view={view} />
      {view.invites.length > 0 && <Invites view={view} />}
      {may("rename") && <Rename view={view} />}
      {may("leave") && (
        <Sure
          kind="quiet"
          label={club.leave}
          question={club.leaveSure}
          onYes={async () => {
            await command("club.leave", { club: view.club });
            go(paths.clubs);
          }}
        />
      )}
    </Page>
  );
}

function Members({ view }: { view: ClubView }) {
  const leads = view.may.includes("role") || view.may.includes("remove");
  return (
    <section class="stack close">
      <h2>{club.members}</h2>
      <ul class="list">
        {view.members.map((member) => (
          <li key={member.member}>
            {leads && !member.gone ? (
              <a class="list-row" href={paths.member(view.club, member.member)}>
                <MemberWords member={member} />
                <OnwardIcon />
              </a>
            ) : (
              <div class="list-row">
                <MemberWords member={member} />
              </div>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}

function MemberWords({ member }: { member: Member }) {
  return (
    <span class="grow">
      <strong>{member.name || words.common.unnamed}</strong>
      {member.me && <span class="soft"> · {words.common.you}</span>}
      <br />
      <span class="small soft">{member.gone ? (member.removed ? club.takenOut : club.gone) : `${words.role[member.role]}, ${club.devices(member.devices)}`}</span>
    </span>
  );
}

function Invites({ view }: { view: ClubView }) {
  return (
    <section class="stack close">
      <h2>{club.invites}</h2>
      <ul class="list">
        {view.invites.map((invite) => (
          <li key={invite.invite}>
            <Invite view={view} invite={invite} />
          </li>
        ))}
      </ul>
    </section>
  );
}

function Invite({ view, invite }: { view: ClubView; invite: InviteLine }) {
  const now = useMinute();
  const { toPhone } = useClubTime();
  return (
    <div class="stack close device-row">
      <p>
        <strong>{words.role[invite.role]}</strong>, {club.inviteUsed(invite.used, invite.uses)}
        <br />
        <span class="small soft">{invite.open ? club.inviteExpires(formatMoment(toPhone(invite.expires), now)) : club.inviteOver}</span>
        {invite.open && invite.share !== "shared" && (
          <>
            {" "}
            <SyncMark {...shareState(invite.share)} />
          </>
        )}
      </p>
      {invite.open && (
        <>
          {invite.link ? <Button href={`${paths.invite(view.club)}#${invite.invite}`}>{club.inviteShow}</Button> : <p class="small soft">{club.inviteElsewhere}</p>}
          {view.may.includes("invite") && (
            <Sure kind="quiet" label={club.revoke} question={club.revokeSure} onYes={() => command("club.revoke", { club: view.club, invite: invite.invite })} />
          )}
        </>
      )}
    </div>
  );
}

function Rename({ view }: { view: ClubView }) {
  const [name, setName] = useState<string>();
  const doing = useDoing();
  if (name === undefined) {
    return (
      <Button kind="quiet" onPress={() => setName(view.name)}>
        {club.rename}
      </Button>
    );
  }
  const save = async () => {
    if (await doing.run(() => command("club.rename", { club: view.club, name }))) setName(undefined);
  };
  return (
    <section class="stack close">
      <TextField label={club.name} value={name} maxLength={60} onValue={setName} error={doing.at("name")} focus />
      <Problem refusal={doing.refusal?.field === "name" ? undefined : doing.refusal} />
      <div class="pair">
        <Button onPress={() => setName(undefined)}>{words.common.cancel}</Button>
        <Button busy={doing.busy} onPress={() => void save()}>
          {words.common.save}
        </Button>
      </div>
    </section>
  );
}
