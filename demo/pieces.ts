/** What the demo pieces were composed to be: their durations, and the rules they are there to show. */
import type { Beat, Ear } from "./counterpoint.js"

export interface DemoPiece {
  /** Of its two files, without the ending. */
  readonly name: string
  readonly ear: Ear
  readonly beat: Beat
  /** The voice the others were written upon; without one the lowest note counts. */
  readonly foundation?: string
  /** Voices whose perfections are looked at. */
  readonly counted: readonly string[]
  /** By voice, in tempora (1, 2) or minims; rests with a minus, a stroke where a perfection begins. */
  readonly durations: Readonly<Record<string, string>>
  /** Each is the reason of at least one sign, or one of the further reasons that are true of it. */
  readonly rules: readonly string[]
}

export const PIECES: readonly DemoPiece[] = [
  {
    name: "1-ordo-tenor",
    ear: "thirteenth",
    beat: "modus",
    foundation: "tenor",
    counted: ["tenor"],
    durations: {
      triplum: `2 1 | 1 1 1 | 3 | 2 1/3 2/3 | 2 1 | 3 | 2 1 | 1 1 1 | 2 -1 |
        1 2 | 1 2 | 1 2 | 2 1 | 1 1 1 | 2 1/3 2/3 | 2 1 | 1 1 1 | 3`,
      motetus: `2 1/3 2/3 | 2 1 | 3 | 2 1 | 1 1 1 | 2 -1 | 2 1/3 2/3 | 2 1 | 3 |
        1 2 | 3 | 1 2 | 2 1/3 2/3 | 2 -1 | 1 1 1 | 2 1 | 2 1/3 2/3 | 3`,
      tenor: `2 1 | 2 1 | 2 -1 | 2 1 | 2 1 | 2 -1 | 2 1 | 2 1 | 2 -1 |
        2 1 | 2 1 | 2 -1 | 2 1 | 2 1 | 2 -1 | 2 1 | 2 1 | 3`,
    },
    rules: [
      "ligatura",
      "plica",
      "similis-ante-similem",
      "number-complete",
      "imperfectio-a-parte-post",
      "imperfectio-a-parte-ante",
      "alteratio",
      "punctus-divisionis",
      "semibrevis-minor-maior",
      "pausa-manet",
      "finis-punctorum",
    ],
  },
  {
    name: "2-hocket",
    ear: "thirteenth",
    beat: "modus",
    foundation: "tenor",
    counted: ["tenor"],
    durations: {
      triplum: `3 | 1 2 | 3 | 1 -1 1 | -1 1 -1 | 1 -1 1 | 2 -1 | 2 -1 | 2 -1 | 2 -1 | 3 | 1 -2 | 1 -2 | 1 -2 | 2 -1 | 1 1 1 |
        2 1/3 2/3 | 1 1 1 | 2 -1 | 1/3 2/3 -1 1/3 2/3 | -1 1/3 2/3 -1 | 1/3 2/3 -1 1/3 2/3 | 2 -1 | 2 -1 | 2 1 | 1 1 1 | 3`,
      motetus: `2 1 | 1 1 1 | 2 -1 | -1 1 -1 | 1 -1 1 | -1 1 -1 | -2 1 | -2 1 | -2 1 | -2 1 | 2 -1 | -1 2 | -1 2 | -1 2 | 3 | 1 2 |
        2 1 | 1 1 1 | 3 | -1 1/3 2/3 -1 | 1/3 2/3 -1 1/3 2/3 | -1 1/3 2/3 -1 | 3 | -2 1 | 3 | 1 2 | 3`,
      tenor: `3 | 1 2 | 3 | -3 | 3 | 1 2 | 3 | -3 | 3 | 1 2 | 3 | -3 | 3 | 1 2 | 3 | -3 |
        3 | 1 2 | 3 | -3 | 3 | 1 2 | 3 | -3 | 3 | 1 2 | 3`,
    },
    rules: [
      "pausa-manet",
      "punctus-perfectionis",
      "punctus-divisionis",
      "similis-ante-similem",
      "alteratio",
      "imperfectio-a-parte-post",
      "imperfectio-a-parte-ante",
      "semibrevis-minor-maior",
      "ligatura",
      "finis-punctorum",
    ],
  },
  {
    name: "3-plain-semibreves",
    ear: "later",
    beat: "modus",
    counted: ["tenor"],
    durations: {
      triplum: `12 3 2 1 | 3 3 6 3 1 1 1 | 12 3 2 1 | 12 3 3 | 12 3 2 1 | 6 3 3 3 2 1 | 12 -6 | 3 3 3 2 1 6 |
        6 6 3 3 | 3 3 6 3 2 1 | 12 3 3 | 12 3 2 1 | 12 3 3 | 6 1 1 1 2 1 3 2 1 | 18`,
      motetus: `12 3 3 | 12 6 | 18 | 12 6 | 12 6 | 6 6 6 | 18 | 18 |
        6 12 | 12 3 3 | 12 -6 | 12 6 | 18 | 6 6 6 | 18`,
      tenor: "18 | 12 6 | 18 | -18 | 18 | 12 6 | 18 | -18 | 18 | 12 6 | 18 | -18 | 18 | 12 6 | 18",
    },
    rules: [
      "via-naturae",
      "via-artis",
      "punctus-divisionis",
      "alteratio",
      "number-complete",
      "similis-ante-similem",
      "imperfectio-a-parte-post",
      "plica",
      "pausa-manet",
    ],
  },
  {
    name: "4-four-prolations",
    ear: "later",
    beat: "tempus",
    counted: ["tenor"],
    durations: {
      cantus: `3 2 1 3 | 3 3 2 1 | 6 -3 | 2 1 1 1 1 2 1 | 9 |
        3 2 1 | 2 1 2 1 | 3 1 2 | 2 1 2 1 | 6 |
        4 2 | 2 2 1 1 | 3 1 2 | 2 1 1 2 | 6 |
        3 1 | 2 2 | 4 | -1 1 1 1 | 1 2 1 | 4 | 1 2 1 | 8`,
      tenor: `9 | 6 3 | 9 | 6 3 | 9 | 6 | 3 3 | 5 1 | 3 3 | 6 | 6 | 2 4 | 6 | 4 2 | 6 |
        4 | 2 2 | 4 | 3 1 | 2 2 | 4 | 2 2 | 8`,
    },
    rules: [
      "similis-ante-similem",
      "number-complete",
      "imperfectio-a-parte-post",
      "imperfectio-ad-partem",
      "alteratio",
      "punctus-additionis",
      "pausa-manet",
      "as-written",
    ],
  },
  {
    name: "5-changing-signs",
    ear: "later",
    beat: "tempus",
    counted: ["tenor", "contratenor"],
    durations: {
      cantus: "2 1 1 2 | 4 2 | 2 1 1 2 | 1 1 2 2 | 4 -2 | 2 1 1 2 | 3 1 2 | 2 2 2 | 6 | 4 2 | 1 1 2 2 | 2 2 1 1 | 12",
      contratenor: `2 1 2 1 | 3 1 1 1 | 5 1 | 2 1 3 | 3 1 | 2 2 | 4 | 2 1 1 | 2 2 | 2 2 |
        6 3 | 1 2 1 1 1 3 | 2 2 2 | 12`,
      tenor: "6 | 4 2 | 6 | 2 2 2 | 6 | 2 4 | 6 | 4 2 | 6 | 4 2 | 6 | 2 2 2 | 12",
    },
    rules: [
      "similis-ante-similem",
      "number-complete",
      "imperfectio-a-parte-post",
      "imperfectio-a-parte-ante",
      "imperfectio-ad-partem",
      "alteratio",
      "punctus-perfectionis",
      "punctus-additionis",
      "pausa-manet",
    ],
  },
  {
    name: "6-proportion-coloration",
    ear: "later",
    beat: "tempus",
    counted: ["altus"],
    durations: {
      cantus: "4 2 | 6 | 3 1 2 | 4 2 | 4 4 4 | 6 | 2 1 1 | 3 1 | 4/3 4/3 | 4/3 4/3 | 4/3 4/3 | 2 2 | 2 2 | 3 1 | 8",
      altus: "4 2 | 4 2 | 6 | 4 2 | 4 2 | 2 3 1 | 6 | 4 | 3/2 1/2 2 | 2 2 | 4 | 3/2 1/2 2 | 2 2 | 2 2 | 8",
      tenor: "4 2 | 2 1 1 2 | 4 2 | 4 2 | 4 4 4 | 6 | 4 | 4 | 2 2 | 4 | 4 | 2 2 | 2 2 | 8",
      bassus: "4 2 | 6 | 4 2 | 4 2 | 4 4 4 | 6 | 4 | 4 | 2 2 | 4 | 2 2 | 2 2 | 2 2 | 8",
    },
    rules: [
      "coloratio",
      "minor-color",
      "proportio",
      "punctus-additionis",
      "imperfectio-a-parte-post",
      "similis-ante-similem",
      "number-complete",
      "ligatura",
    ],
  },
  {
    name: "7-fuga",
    ear: "later",
    beat: "tempus",
    counted: ["cantus"],
    durations: {
      cantus: `6 | 4 1 1 | 2 1 1 2 | 3 1 2 | 2 1 1 2 | 6 | 4 2 | 3 1 2 | 4 1 1 | 4 2 | 4 1 1 | 2 2 2 | 12`,
    },
    rules: ["similis-ante-similem", "imperfectio-a-parte-post", "punctus-additionis"],
  },
  {
    name: "8-tenor-bis",
    ear: "later",
    beat: "tempus",
    counted: ["cantus"],
    durations: {
      cantus: `3 2 1 | 1 1 1 3 | 2 1 2 1 | 2 1 1 1 1 | 2 1 3 | 3 2 1 | 2 1 3 | 3 2 1 | 6 | 3 3 | 1 1 1 3 | 2 1 1 1 1 | 1 1 1 3 |
        3 2 1 | 2 1 1 1 1 | 6 | 2 1 2 1 | 3 3 | 2 1 3 | 3 2 1 | 12`,
      tenor: `12 | 6 | 6 | 12 | 6 | 6 | 12 | 6 | 6 | 12`,
    },
    rules: ["similis-ante-similem", "imperfectio-a-parte-post", "number-complete"],
  },
  {
    name: "9-ballade",
    ear: "later",
    beat: "tempus",
    counted: ["cantus"],
    durations: {
      cantus: `6 | 3 1 2 | 2 2 2 | 2 2 1 1 | 4 2 | 2 1 1 2 | 4 2 | 6 | 2 1 1 2 | 6 | 4 1 1 | 2 2 1 1 | 2 2 2 | 4 1 1 | 3 1 2 | 6 |
        3 1 2 | 4 1 1 | 2 1 1 2 | 3 1 2 | 12`,
      tenor: `6 | 4 2 | 6 | 4 2 | 6 | 4 2 | 6 | 6 | 6 | 6 | 6 | 4 2 | 6 | 4 2 | 6 | 6 | 6 | 4 2 | 6 | 6 | 12`,
    },
    rules: ["number-complete", "similis-ante-similem", "imperfectio-a-parte-post", "punctus-additionis"],
  },
]
