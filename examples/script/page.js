// How a page's own script moves a lesson and hears where its reader is.

const lesson = document.getElementById("slav");
const where = document.getElementById("where");

document.getElementById("trap").addEventListener("click", async () => {
  await lesson.ready;
  lesson.go("5...b5 6.axb5 cxb5 7.Nxb5");
});

lesson.addEventListener("ply-moved", ({ detail }) => {
  where.textContent = `after ${detail.moves.join(" ")}`;
});
