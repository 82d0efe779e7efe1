// How it works, who can see what, how a guess is counted, and what to take care of.

import type { ComponentChildren } from "preact";
import { Page } from "../parts/page/page.tsx";
import { about } from "../words.ts";
import { paths } from "../paths.ts";

export function About() {
  return (
    <Page title={about.title} above={paths.cupboard}>
      <p>{about.open}</p>
      <Paragraphs title={about.careTitle}>
        {about.care.map(([name, text]) => (
          <p key={name}>
            <strong>{name}.</strong> {text}
          </p>
        ))}
      </Paragraphs>
      <Paragraphs title={about.seeTitle}>
        <ul class="stack close">
          {about.see.map((text) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      </Paragraphs>
      <Paragraphs title={about.sealTitle}>
        {about.seal.map((text) => (
          <p key={text}>{text}</p>
        ))}
      </Paragraphs>
      <Paragraphs title={about.countTitle}>
        {about.count.map((text) => (
          <p key={text}>{text}</p>
        ))}
      </Paragraphs>
    </Page>
  );
}

function Paragraphs({ title, children }: { title: string; children: ComponentChildren }) {
  return (
    <section class="stack close">
      <hr class="rule" />
      <h2>{title}</h2>
      {children}
    </section>
  );
}
