// The page's own script: the elements, and what is done with where the reader is.

import "plyline";

const where = document.getElementById("where");
document.addEventListener("ply-moved", ({ detail }) => (where.textContent = `after ${detail.moves.join(" ")}`));
