// A post: a lesson, where its reader is, and a question about it. It is also rendered on a server, where nothing is drawn.

import { useState } from "react";
import "plyline";

const MOVES = `1. e4 e5 2. Nf3 Nf6 3. Nxe5 d6 (3... Nxe4? 4. Qe2 {and the knight may not leave.}) 4. Nf3 Nxe4 5. d4 d5 $11 *`;

export function Post() {
  const [said, say] = useState("the start");
  return (
    <main>
      <h1>A page with React</h1>
      <p>
        Here: <output>{said}</output>
      </p>
      <ply-line id="petroff" side="black" onply-moved={({ detail }) => say(detail.san ?? "the start")}>
        <pre>{MOVES}</pre>
      </ply-line>
      <ply-quiz for="petroff" at="3.Nxe5" onply-settled={({ detail }) => say(`${detail.how} after ${detail.tries} tries`)}>
        <p>May Black take back at once?</p>
      </ply-quiz>
    </main>
  );
}
