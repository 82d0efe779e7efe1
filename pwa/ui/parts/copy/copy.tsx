// A text to hand over: it can be read, selected, copied, and where the browser can, sent.

import { useState } from "preact/hooks";
import { sendLink } from "../../model/browser.ts";
import * as words from "../../words.ts";
import { Button } from "../button/button.tsx";
import "./copy.css";

export function CopyText({ label, text, send }: { label: string; text: string; send?: string }) {
  const [copied, setCopied] = useState(false);
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(text);
      setCopied(true);
    } catch {
      setCopied(false); // forbidden here: the text stands there to be selected
    }
  };
  return (
    <div class="copy">
      <h2>{label}</h2>
      <code class="copy-text" tabIndex={0} aria-label={label}>
        {text}
      </code>
      <div class="row">
        <Button onPress={copy}>{copied ? words.common.copied : words.common.copy}</Button>
        {send !== undefined && "share" in navigator && <Button onPress={() => void sendLink(send, text)}>{words.common.share}</Button>}
      </div>
    </div>
  );
}
