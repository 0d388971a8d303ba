// Voices for measuring: invented, endless, and always the same for the same length. They are no music.

/** Groups of signs in the trade's abbreviations; a "-" before one is a rest, "." a dot. Each is likely writing of its practice. */
const KINDS = {
  "ars-antiqua": {
    notation: "black",
    groups: [
      "L B",
      "L L",
      "L B B",
      "B L",
      "L B S S",
      "L S S S",
      "B B B L",
      "L S S",
      "L -B",
      "S S S B B",
      "L B B B L",
      "L . B B",
    ],
  },
  "ars-nova": {
    notation: "black",
    levels: { modusMaior: 2, modusMinor: 2, tempus: 3, prolatio: 2 },
    groups: [
      "B S",
      "S S S",
      "B B",
      "S M M S",
      "M M M M S",
      "B M M S",
      "S B",
      "B S S B",
      "S M S M S",
      "-B",
      "B . S S B",
      "L",
    ],
  },
  white: {
    notation: "white",
    levels: { modusMaior: 2, modusMinor: 2, tempus: 2, prolatio: 2 },
    groups: [
      "B",
      "S S",
      "S . M",
      "M M S",
      "M . Sm M M",
      "S M M",
      "Sm Sm M S",
      "-S S",
      "M M M M",
      "L",
      "-M M S",
      "S . Sm Sm S",
    ],
  },
}
const LEVELS = { L: "longa", B: "brevis", S: "semibrevis", M: "minima", Sm: "semiminima" }
const STEPS = "cdefgab"

export const practices = Object.keys(KINDS)

/** A voice of at least so many notes and rests in this practice. */
export function voiceOf(practice, notes, label = "cantus") {
  const { notation, levels, groups } = KINDS[practice]
  const random = randomFrom(notes + practice.length)
  const signs = levels ? [{ kind: "mensuration", id: `${label}.0`, initial: true, ...levels }] : []
  let count = 0
  let height = 30
  while (count < notes) {
    for (const word of groups[random(groups.length)].split(" ")) {
      const id = `${label}.${signs.length + 1}`
      height = Math.max(26, Math.min(36, height + random(5) - 2))
      signs.push(signOf(word, id, { step: STEPS[height % 7], octave: Math.floor(height / 7) }))
      if (word !== ".") count++
    }
  }
  return { id: label, n: "1", label, lines: 5, notation, practice: { name: practice, options: {} }, signs }
}

function signOf(word, id, pitch) {
  if (word === ".") return { kind: "dot", id }
  if (word.startsWith("-")) return { kind: "rest", id, level: LEVELS[word.slice(1)], coloration: "none" }
  return { kind: "note", id, level: LEVELS[word], pitch, coloration: "none", stems: [], syllables: [] }
}

export function pageOf(title, voices) {
  return { title, voices, shapes: [], surfaces: [], zones: [], alternatives: [] }
}

/** The same voice with one breve in its middle turned into a semibreve or the other way about: what an editor does. */
export function edited(voice) {
  const at = voice.signs.findIndex((sign, index) => index > voice.signs.length / 2 && sign.kind === "note")
  const note = voice.signs[at]
  const level = note.level === "brevis" ? "semibrevis" : "brevis"
  return { ...voice, signs: voice.signs.with(at, { ...note, level }) }
}

/** Whole numbers below n, the same row each time (a linear congruence; good enough to mix groups). */
function randomFrom(seed) {
  let state = (seed * 2654435761 + 12345) >>> 0
  return below => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return Math.floor((state / 2 ** 32) * below)
  }
}
