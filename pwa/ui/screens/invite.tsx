// Makes an invitation, and shows one: a QR code, a link, and a text to paste.

import { useEffect, useState } from "preact/hooks";
import type { ClubView, InviteLine, Role } from "../gen/types.ts";
import { useMinute } from "../model/clock.ts";
import { useClubTime } from "../model/clubtime.ts";
import { command, useView } from "../model/core.ts";
import { go, place, type Params } from "../model/router.ts";
import type { Range } from "../model/numbers.ts";
import { formatMoment } from "../model/times.ts";
import { Button } from "../parts/button/button.tsx";
import { CopyText } from "../parts/copy/copy.tsx";
import { NumberField, Pick } from "../parts/field/field.tsx";
import { Page } from "../parts/page/page.tsx";
import { QR } from "../parts/qr/qr.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { Problem, StatusLine, useDoing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { club, units } from "../words.ts";

const uses: Range = { min: 1, max: 50, whole: true, unit: units.persons };
const days: Range = { min: 1, max: 60, whole: true, unit: units.days };

export function Invite({ params }: { params: Params }) {
  const seen = useView("club", { club: params.club ?? "" });
  const id = place.value.hash;
  return (
    <Shown seen={seen} title={club.inviteTitle} above={paths.club(params.club ?? "")}>
      {(view) => {
        const invite = view.invites.find((each) => each.invite === id);
        return invite?.link ? <Show view={view} invite={invite} /> : <Make view={view} />;
      }}
    </Shown>
  );
}

function Make({ view }: { view: ClubView }) {
  const [role, setRole] = useState<Role>("taster");
  const [persons, setPersons] = useState<number | undefined>(6);
  const [open, setOpen] = useState<number | undefined>(14);
  const doing = useDoing();
  const bad = persons === undefined || Number.isNaN(persons) || open === undefined || Number.isNaN(open);
  const make = () =>
    doing.run(async () => {
      const { invite } = await command("club.invite", { club: view.club, role, uses: persons ?? 0, days: open ?? 0 });
      go(`${paths.invite(view.club)}#${invite}`, "replace");
    });
  return (
    <Page
      title={club.inviteTitle}
      above={paths.club(view.club)}
      action={
        <>
          <Problem refusal={doing.refusal} />
          <Button kind="primary" busy={doing.busy} disabled={bad} onPress={() => void make()}>
            {club.inviteMake}
          </Button>
        </>
      }
    >
      <p class="soft">{club.inviteIntro}</p>
      <Pick
        label={club.inviteRole}
        value={role}
        onValue={(value) => setRole(value as Role)}
        options={(["taster", "organiser"] as const).map((value) => ({ value, label: words.role[value] }))}
      />
      <div class="fields">
        <NumberField label={club.inviteUses} range={uses} value={persons} onValue={setPersons} error={doing.at("uses")} />
        <NumberField label={club.inviteDays} range={days} value={open} onValue={setOpen} error={doing.at("days")} />
      </div>
    </Page>
  );
}

function Show({ view, invite }: { view: ClubView; invite: InviteLine }) {
  const now = useMinute();
  const { toPhone } = useClubTime();
  useEffect(() => scrollTo(0, 0), []);
  return (
    <Page
      title={club.inviteTitle}
      above={paths.club(view.club)}
      aside={`${words.role[invite.role]}, ${club.inviteUsed(invite.used, invite.uses)}, ${club.inviteExpires(formatMoment(toPhone(invite.expires), now))}`}
    >
      {invite.share !== "shared" && <StatusLine>{club.inviteWaits}</StatusLine>}
      <h2>{club.inviteScan}</h2>
      <QR text={invite.link} label={club.inviteTitle} />
      <CopyText label={club.inviteLink} text={invite.link} send={club.joinTitle} />
      <CopyText label={club.inviteText} text={invite.text} />
      <p class="small soft">{club.inviteIntro}</p>
      <Button href={paths.club(view.club)}>{club.toClub}</Button>
    </Page>
  );
}
