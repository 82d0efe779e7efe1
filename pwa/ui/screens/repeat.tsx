// How equal one's brews of one recipe are: brewed cups and cupping bowls, each by themselves.

import type { Spread } from "../gen/types.ts";
import { useView } from "../model/core.ts";
import { formatSpread } from "../model/quantities.ts";
import type { Params } from "../model/router.ts";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { Sideways } from "../parts/sideways/sideways.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { log } from "../words.ts";
import "./lookback.css";

export function Repeat({ params }: { params: Params }) {
  const asked = { book: params.book ?? "", brew: params.brew ?? "" };
  const above = paths.brew(asked.book, asked.brew);
  const seen = useView("repeat", asked);
  return (
    <Shown seen={seen} title={log.repeat} above={above}>
      {(view) => (
        <Page title={log.repeat} above={above} aside={log.repeatText}>
          {view.ready ? (
            <>
              <Spreads title={log.brewed} spreads={view.brewed} />
              <Spreads title={log.bowlsTitle} spreads={view.bowls} />
            </>
          ) : (
            <p class="soft">{log.judging}</p>
          )}
        </Page>
      )}
    </Shown>
  );
}

function Spreads({ title, spreads }: { title: string; spreads: readonly Spread[] }) {
  const known = spreads.filter(({ brews }) => brews > 0);
  const judged = known.map(({ brews, recipes }) => log.byBrews(brews, recipes));
  const none = !known.some(({ enough }) => enough);
  const alike = judged.every((each) => each === judged[0]);
  return (
    <section class="stack close">
      <h2>{title}</h2>
      {!none && alike && judged[0] && <p class="small soft">{log.judgedBy(judged[0])}</p>}
      {none ? (
        <p class="soft">{judged[0] ? log.repeatFew(judged[0]) : log.repeatNone}</p>
      ) : (
        <Sideways label={title}>
          <table class="marks whole">
            <thead>
              <tr>
                <th scope="col">{words.bench.table.what}</th>
                <th scope="col">{log.deviation}</th>
                <th scope="col">{log.limit}</th>
              </tr>
            </thead>
            <tbody>
              {known.map((spread) => (
                <tr key={spread.of}>
                  <th scope="row">
                    {words.quantity[spread.of]}
                    {!alike && <span class="small repeat-by">{log.byBrews(spread.brews, spread.recipes)}</span>}
                  </th>
                  <td>{spread.enough ? <Deviation spread={spread} /> : log.notYet}</td>
                  <td>{spread.enough ? <strong>{formatSpread(spread.of, spread.limit)}</strong> : ""}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </Sideways>
      )}
    </section>
  );
}

function Deviation({ spread: { of, deviation } }: { spread: Spread }) {
  return (
    <>
      {formatSpread(of, deviation.value)} <span class="small soft">({log.ends(formatSpread(of, deviation.low), formatSpread(of, deviation.high))})</span>
    </>
  );
}
