// One member, for who may change the club.

import type { ClubView, Member as Person } from "../gen/types.ts";
import { command, useView } from "../model/core.ts";
import { go, type Params } from "../model/router.ts";
import { Page } from "../parts/page/page.tsx";
import { Nothing, Shown } from "../parts/shown/shown.tsx";
import { Sure } from "../parts/sure/sure.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { club } from "../words.ts";

export function Member({ params }: { params: Params }) {
  const seen = useView("club", { club: params.club ?? "" });
  return (
    <Shown seen={seen} title={club.members} above={paths.club(params.club ?? "")}>
      {(view) => {
        const member = view.members.find((each) => each.member === params.member);
        return member ? <Open view={view} member={member} /> : <Nothing text={words.common.notFoundText} />;
      }}
    </Shown>
  );
}

function Open({ view, member }: { view: ClubView; member: Person }) {
  const name = member.name || words.common.unnamed;
  const other = member.role === "organiser" ? "taster" : "organiser";
  const id = { club: view.club, member: member.member };
  return (
    <Page title={name} above={paths.club(view.club)} aside={`${words.role[member.role]}, ${club.devices(member.devices)}`}>
      {view.may.includes("role") && (
        <Sure
          label={other === "organiser" ? club.makeOrganiser : club.makeTaster}
          question={club.roleSure(name, words.role[other])}
          onYes={() => command("club.role", { ...id, role: other })}
        />
      )}
      {view.may.includes("remove") && !member.me && (
        <Sure
          label={club.remove}
          question={club.removeSure(name)}
          onYes={async () => {
            await command("club.remove", id);
            go(paths.club(view.club), "replace");
          }}
        />
      )}
    </Page>
  );
}
