// A QR code, dark on light in both themes since cameras expect it, with a word for who cannot see it: the link and the text
// stand below it.

import { useMemo } from "preact/hooks";
import { encode } from "uqr";
import "./qr.css";

export function QR({ text, label }: { text: string; label: string }) {
  const { path, size } = useMemo(() => draw(text), [text]);
  return (
    <svg class="qr" viewBox={`0 0 ${size} ${size}`} role="img" aria-label={label} shape-rendering="crispEdges">
      <rect width={size} height={size} fill="#fffdf8" />
      <path d={path} fill="#181512" />
    </svg>
  );
}

/** One run of dark modules a stroke, with the four modules of quiet zone that the standard asks for. */
export function draw(text: string): { path: string; size: number } {
  const { data, size } = encode(text, { ecc: "M", border: 4 });
  let path = "";
  data.forEach((row, y) => {
    for (let x = 0; x < size; x++) {
      if (!row[x]) continue;
      const from = x;
      while (x < size && row[x]) x++;
      path += `M${from} ${y}h${x - from}v1h-${x - from}z`;
    }
  });
  return { path, size };
}
