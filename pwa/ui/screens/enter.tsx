// Coming in: by a link that was opened, a text that was pasted, a code from the drawer. What a link is for is asked first;
// nothing is done before the person says so.

import { useEffect, useState } from "preact/hooks";
import type { Joining, LinkMeaning } from "../gen/types.ts";
import { askToKeep, installed, isApple } from "../model/browser.ts";
import { command, Refusal, useView, workerState } from "../model/core.ts";
import { go, place } from "../model/router.ts";
import { Button } from "../parts/button/button.tsx";
import { CopyText } from "../parts/copy/copy.tsx";
import { TextField } from "../parts/field/field.tsx";
import { Page } from "../parts/page/page.tsx";
import { Care, Problem, StatusLine, useDoing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { club, cupboard } from "../words.ts";
import { Caution } from "./caution.tsx";

/** Any link or text, pasted. */
export function Enter() {
  const [text, setText] = useState("");
  const [given, setGiven] = useState("");
  if (given) return <Read text={given} onOther={() => setGiven("")} />;
  return (
    <Page
      title={club.enterTitle}
      above={paths.clubs}
      action={
        <Button kind="primary" disabled={text.trim() === ""} onPress={() => setGiven(text.trim())}>
          {club.read}
        </Button>
      }
    >
      <TextField label={club.enterField} hint={club.enterHint} value={text} rows={4} capitals="none" onValue={setText} focus />
    </Page>
  );
}

/** The screens behind the three kinds of link are one: what stands behind the # says what it is for. */
export function Join() {
  return <ByAddress />;
}

export function Pair() {
  return <ByAddress />;
}

export function Recover() {
  return <ByAddress />;
}

function ByAddress() {
  const { path, hash } = place.value;
  // a link without its secret was cut on its way; the recovery screen also opens without one
  if (!hash) return path === paths.recover ? <RecoverForm code="" /> : <Enter />;
  // another link into the same tab changes nothing but the hash: it begins anew all the same
  return <Read key={hash} text={location.href} onOther={() => go(paths.enter, "replace")} />;
}

function Read({ text, onOther }: { text: string; onOther(): void }) {
  const [meaning, setMeaning] = useState<LinkMeaning>();
  const [refusal, setRefusal] = useState<Refusal>();
  const ready = workerState.value === "ready";
  useEffect(() => {
    command("link.read", { text }).then(setMeaning, (reason: unknown) => {
      setRefusal(reason instanceof Refusal ? reason : undefined);
    });
  }, [text]);
  if (meaning?.purpose === "join") return <JoinClub link={text} meaning={meaning} />;
  if (meaning?.purpose === "device") return <JoinDevice link={text} meaning={meaning} />;
  if (meaning?.purpose === "recovery") return <RecoverForm code={text} />;
  return (
    <Page title={club.enterTitle} above={paths.tonight}>
      {refusal ? (
        <>
          <Problem refusal={refusal} />
          <p>{club.joinBad}</p>
          <Button onPress={onOther}>{club.enterAgain}</Button>
        </>
      ) : (
        <StatusLine>{ready ? words.common.loading : words.shell.starting}</StatusLine>
      )}
    </Page>
  );
}

function JoinClub({ link, meaning }: { link: string; meaning: LinkMeaning }) {
  const notebook = useView("notebook").value;
  const [name, setName] = useState("");
  const [here, setHere] = useState(installed() || !isApple());
  const doing = useDoing();
  const [joining, setJoining] = useState("");
  if (meaning.known) {
    return (
      <Page title={club.joinKnown} above={paths.clubs}>
        <Button kind="primary" href={paths.club(meaning.known)}>
          {club.toClub}
        </Button>
      </Page>
    );
  }
  if (joining) return <Coming joining={joining} title={club.joinTitle} to={paths.club(joining)} toLabel={club.toClub} />;
  if (!here) return <InstallFirst link={link} onHere={() => setHere(true)} />;
  const join = () =>
    doing.run(async () => {
      const args = notebook?.name ? { link } : { link, name };
      setJoining((await command("club.join", args)).joining);
      void askToKeep();
    });
  return (
    <Page
      title={club.joinTitle}
      above={paths.tonight}
      action={
        <>
          <Problem refusal={doing.refusal?.field === "name" ? undefined : doing.refusal} />
          <Button kind="primary" busy={doing.busy} disabled={!notebook || (!notebook.name && name.trim() === "")} onPress={() => void join()}>
            {club.join}
          </Button>
        </>
      }
    >
      <p>{club.joinHost(meaning.host)}</p>
      {notebook && !notebook.name && (
        <TextField label={club.yourName} hint={club.yourNameHint} value={name} maxLength={40} capitals="words" onValue={setName} error={doing.at("name")} />
      )}
      <Caution caution="data" title={club.privacyTitle} text={club.privacyText} />
    </Page>
  );
}

function InstallFirst({ link, onHere }: { link: string; onHere(): void }) {
  return (
    <Page title={club.installTitle} above={paths.tonight} action={<Button onPress={onHere}>{club.installHere}</Button>}>
      <Care title={club.installTitle}>
        <p>{club.installIphone}</p>
      </Care>
      <CopyText label={club.inviteText} text={link.slice(link.indexOf("#") + 1)} />
    </Page>
  );
}

function JoinDevice({ link, meaning }: { link: string; meaning: LinkMeaning }) {
  const doing = useDoing();
  const [joining, setJoining] = useState("");
  if (joining) return <Coming joining={joining} title={cupboard.linkTitle} to={paths.tonight} toLabel={words.common.toTonight} />;
  const join = () =>
    doing.run(async () => {
      setJoining((await command("club.join", { link })).joining);
      void askToKeep();
    });
  return (
    <Page
      title={cupboard.linkTitle}
      above={paths.tonight}
      action={
        <>
          <Problem refusal={doing.refusal} />
          <Button kind="primary" busy={doing.busy} onPress={() => void join()}>
            {cupboard.linkHere}
          </Button>
        </>
      }
    >
      <p>{cupboard.linkText}</p>
      <p class="soft">{club.joinHost(meaning.host)}</p>
    </Page>
  );
}

function RecoverForm({ code: given }: { code: string }) {
  const [code, setCode] = useState(given);
  const doing = useDoing();
  const [joining, setJoining] = useState("");
  if (joining) return <Coming joining={joining} title={cupboard.recoverTitle} to={paths.tonight} toLabel={words.common.toTonight} />;
  const recover = () =>
    doing.run(async () => {
      setJoining((await command("recover", { code })).joining);
      void askToKeep();
    });
  return (
    <Page
      title={cupboard.recoverTitle}
      above={paths.cupboard}
      action={
        <>
          <Problem refusal={doing.refusal?.field === "code" ? undefined : doing.refusal} />
          <Button kind="primary" busy={doing.busy} disabled={code.trim() === ""} onPress={() => void recover()}>
            {cupboard.recover}
          </Button>
        </>
      }
    >
      <p>{cupboard.recoverText}</p>
      <TextField label={cupboard.recoverField} hint={cupboard.recoverHint} value={code} rows={2} capitals="characters" onValue={setCode} error={doing.at("code")} />
      <p class="small soft">{cupboard.recoverUsed}</p>
    </Page>
  );
}

/** On the way in: kept on this device, and done when the server has answered, now or after a restart. */
function Coming({ joining, title, to, toLabel }: { joining: string; title: string; to: string; toLabel: string }) {
  const clubs = useView("clubs").value;
  const at = clubs?.joining.find((each) => each.joining === joining);
  // what is no longer under way has arrived
  const arrived = clubs !== undefined && (at === undefined || at.state === "in");
  return (
    <Page
      title={title}
      above={paths.tonight}
      action={
        <Button kind="primary" href={arrived ? to : paths.tonight}>
          {arrived ? toLabel : words.common.toTonight}
        </Button>
      }
    >
      <div role="status" class="stack">
        <p class="title">{arrived ? club.joined : capital(club.joining[at?.state ?? "waiting"])}</p>
        {!arrived && <p>{at?.code ? failure(at) : club.joiningSaved}</p>}
      </div>
    </Page>
  );
}

/** What stands within a sentence elsewhere begins one here. */
const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

function failure({ code }: Joining): string {
  const own = words.errors[code];
  return own ? [own.text, own.hint].filter(Boolean).join(" ") : club.joinBad;
}

/** What is under way, for the screens that show it beside other things. */
export function JoiningList({ joining }: { joining: readonly Joining[] }) {
  const going = joining.filter((each) => each.state !== "in");
  if (going.length === 0) return null;
  return (
    <ul class="list">
      {going.map((each) => (
        <li key={each.joining} class="list-row">
          <span class="grow">
            <strong>{{ join: club.joinTitle, device: cupboard.linkTitle, recovery: cupboard.recoverTitle }[each.purpose]}</strong>
            <br />
            <span class="small soft">
              {club.joining[each.state]}, {club.host(each.host)}
              {each.code && `. ${failure(each)}`}
            </span>
          </span>
        </li>
      ))}
    </ul>
  );
}
