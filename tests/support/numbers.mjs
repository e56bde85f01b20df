// How words agree with the number before them, for tests/languages.mjs: by the categories of Unicode CLDR. The forms
// are from memory, as the languages' files are; which number has which category `Intl.PluralRules` says. A million has a
// category of its own in Spanish, French, Italian and Portuguese (`many`); no number here comes so far before its noun.

/** Signs of units, which are written the same after any number: percent and seconds. */
export const SIGNS = ["%", "s"];

/** What may follow any number, by language. */
export const AFTER = {
  en: ["of", "ahead", "recalled", "not met", "found", "won", "drawn", "lost", "left out", "damaged", "and", "to come", "for"],
  de: ["von", "mehr", "gewusst", "nicht erreicht", "gefunden", "und", "gewonnen", "remis", "verloren", "mit unbekanntem Ergebnis", "beschädigt", "ausgelassen", "davon", "für"],
  fr: ["sur", "de plus", "et", "encore à atteindre", "pour les", "seulement"],
  es: ["de", "más", "y las negras", "sin alcanzar", "para las"],
  it: ["su", "in più", "e il Nero", "da raggiungere", "per il"],
  nl: ["van", "meer", "en zwart", "niet bereikt", "gekend", "gevonden", "voor", "per stelling"],
  pt: ["de", "a mais", "e as pretas", "por alcançar", "para as"],
  pl: ["z", "więcej", "do osiągnięcia", "part.", "× pionek", "× skoczek", "× goniec", "× wieża", "× hetman", "dla"],
};

const few = (one, other, many = other) => ({ one, few: other, many, other });
const pieces = (...all) => all.map(([one, other]) => ({ one, other }));

/** What agrees with the number before it, by language and key: a form for each category. */
export const AGREE = {
  en: {
    lines: { one: "line", other: "lines" },
    dueMany: { one: "position to come back to today", other: "positions to come back to today" },
    nextDays: { one: "day", other: "days" },
    several: { one: "move goes on from here", other: "moves go on from here" },
    plurals: pieces(["pawn", "pawns"], ["knight", "knights"], ["bishop", "bishops"], ["rook", "rooks"], ["queen", "queens"]),
    countsGames: { one: "game", other: "games" },
    keptOf: [{ one: "of" }, { one: "position", other: "positions" }],
    countsBeside: { one: "game", other: "games" },
    engineNodes: { one: "position searched for each", other: "positions searched for each" },
    asideNothing: { one: "half-move deep", other: "half-moves deep" },
    asideStays: { one: "half-move deep", other: "half-moves deep" },
    asideOnly: { one: "half-move was searched", other: "half-moves were searched" },
    asideDepth: { one: "half-move deep", other: "half-moves deep" },
  },
  de: {
    lines: { one: "Variante", other: "Varianten" },
    dueMany: { one: "Stellung", other: "Stellungen" },
    nextDays: { one: "Tag wieder", other: "Tagen wieder" },
    several: { one: "Zug geht von hier weiter", other: "Züge gehen von hier weiter" },
    plurals: pieces(["Bauer", "Bauern"], ["Springer", "Springer"], ["Läufer", "Läufer"], ["Turm", "Türme"], ["Dame", "Damen"]),
    countsGames: { one: "Partie", other: "Partien" },
    countsBeside: { one: "Partie", other: "Partien" },
    asideNothing: { one: "Halbzug tief durchsucht", other: "Halbzüge tief durchsucht" },
    asideStays: { one: "Halbzug tief durchsucht", other: "Halbzüge tief durchsucht" },
    asideDepth: { one: "Halbzug tief durchsucht", other: "Halbzüge tief durchsucht" },
  },
  fr: {
    lines: { one: "variante", other: "variantes" },
    dueMany: { one: "position à revoir aujourd’hui", other: "positions à revoir aujourd’hui" },
    nextDays: { one: "jour", other: "jours" },
    several: { one: "coup continue d’ici", other: "coups continuent d’ici" },
    plurals: pieces(["pion", "pions"], ["cavalier", "cavaliers"], ["fou", "fous"], ["tour", "tours"], ["dame", "dames"]),
    countsGames: { one: "partie", other: "parties" },
    asideNothing: { one: "demi-coup", other: "demi-coups" },
    asideStays: { one: "demi-coup", other: "demi-coups" },
    asideDepth: { one: "demi-coup", other: "demi-coups" },
  },
  es: {
    lines: { one: "variante", other: "variantes" },
    dueMany: { one: "posición que vuelve hoy", other: "posiciones que vuelven hoy" },
    nextDays: { one: "día", other: "días" },
    several: { one: "jugada sigue desde aquí", other: "jugadas siguen desde aquí" },
    plurals: pieces(["peón", "peones"], ["caballo", "caballos"], ["alfil", "alfiles"], ["torre", "torres"], ["dama", "damas"]),
    countsGames: { one: "partida", other: "partidas" },
    asideNothing: { one: "media jugada de profundidad", other: "medias jugadas de profundidad" },
    asideStays: { one: "media jugada de profundidad", other: "medias jugadas de profundidad" },
    asideDepth: { one: "media jugada de profundidad", other: "medias jugadas de profundidad" },
  },
  it: {
    lines: { one: "variante", other: "varianti" },
    dueMany: { one: "posizione che torna oggi", other: "posizioni che tornano oggi" },
    nextDays: { one: "giorno", other: "giorni" },
    several: { one: "mossa continua da qui", other: "mosse continuano da qui" },
    plurals: pieces(["pedone", "pedoni"], ["cavallo", "cavalli"], ["alfiere", "alfieri"], ["torre", "torri"], ["donna", "donne"]),
    countsGames: { one: "partita", other: "partite" },
    asideNothing: { one: "semimossa", other: "semimosse" },
    asideStays: { one: "semimossa", other: "semimosse" },
    asideDepth: { one: "semimossa", other: "semimosse" },
  },
  nl: {
    lines: { one: "variant", other: "varianten" },
    dueMany: { one: "stelling die vandaag terugkomt", other: "stellingen die vandaag terugkomen" },
    nextDays: { one: "dag terug", other: "dagen terug" },
    several: { one: "zet gaat van hier verder", other: "zetten gaan van hier verder" },
    plurals: pieces(["pion", "pionnen"], ["paard", "paarden"], ["loper", "lopers"], ["toren", "torens"], ["dame", "dames"]),
    countsGames: { one: "partij", other: "partijen" },
    asideNothing: { one: "halve zet diep doorzocht", other: "halve zetten diep doorzocht" },
    asideStays: { one: "halve zet diep doorzocht", other: "halve zetten diep doorzocht" },
    asideDepth: { one: "halve zet diep doorzocht", other: "halve zetten diep doorzocht" },
  },
  pt: {
    lines: { one: "variante", other: "variantes" },
    dueMany: { one: "posição que volta hoje", other: "posições que voltam hoje" },
    nextDays: { one: "dia", other: "dias" },
    several: { one: "lance continua daqui", other: "lances continuam daqui" },
    sinceThen: { one: "lance desde então", other: "lances desde então" },
    plurals: pieces(["peão", "peões"], ["cavalo", "cavalos"], ["bispo", "bispos"], ["torre", "torres"], ["dama", "damas"]),
    countsGames: { one: "partida", other: "partidas" },
    asideNothing: { one: "meio-lance de profundidade", other: "meios-lances de profundidade" },
    asideStays: { one: "meio-lance de profundidade", other: "meios-lances de profundidade" },
    asideDepth: { one: "meio-lance de profundidade", other: "meios-lances de profundidade" },
  },
  pl: {
    nextDays: few("dzień", "dni"),
    // The other Polish texts have their noun before the number; these are what they would have to be.
    lines: few("wariant", "warianty", "wariantów"),
    countsGames: few("partia", "partie", "partii"),
    // These stand in the genitive, which has one plural.
    asideNothing: few("półruchu", "półruchów"),
    asideStays: few("półruchu", "półruchów"),
    asideDepth: few("półruchu", "półruchów"),
    asideMuch: few("pionka", "pionków"),
  },
};

// The pieces that an answer to an aside names have the forms of all pieces.
const NAMED = [["asidePawns", "asideMuch"], ["asideKnights"], ["asideBishops"], ["asideRooks"], ["asideQueens"]];
for (const forms of Object.values(AGREE)) {
  NAMED.forEach((keys, at) => keys.forEach((key) => (forms[key] ??= forms.plurals?.[at])));
}

/** Texts of English and German that say 1 as they say several: `1 of 1 positions`, a quoted figure of `1 games`, and in
 * English a search of `1 positions` or `1 half-moves`. The page's core has no bytes left for a text of their own. */
export const KNOWN = {
  en: ["keptOf", "countsMany", "countsRead", "engineNodes", "asideOnly"],
  de: ["keptOf", "countsMany", "countsRead"],
};
