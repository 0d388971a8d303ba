/** The modern score: printed, drawn, and in the forms of other programs. */
import {
  BOOK_PARTS,
  midiCannotCarry,
  modernMei,
  modernMeiCannotCarry,
  musicXmlCannotCarry,
  writeMidi,
  writeMusicXml,
  type BookPart,
} from "@resolutio/core"
import { compressed, printBook, scorePng, scoreSvg } from "@resolutio/press"
import { exportWords } from "../../words/export.js"
import type { Format, Known } from "../formats.js"
import { TOOLS } from "../tools.js"

const musicXml = ({ sung, conventions }: Known): string => writeMusicXml(sung, conventions)
const musicXmlLosses = ({ sung, conventions }: Known): string[] => musicXmlCannotCarry(sung, conventions)
const pictured = ({ page, sung, conventions, wishes: { prefatory } }: Known) => ({
  page,
  score: sung,
  conventions,
  prefatory,
})

/** Engraving cannot say how far it is; what it is about to do is a step of these. */
const STEPS = 4

function book(only?: readonly BookPart[]): Format["make"] {
  return ({ page, readings, sung, conventions, head, wishes, told }) => {
    let done = 0
    const { paper, maker, prefatory, editor, doubt: doubtFrom } = wishes
    const contents = only ?? BOOK_PARTS.filter(part => wishes.contents.includes(part))
    if (contents.length === 0) throw new Error(exportWords.emptyBook)
    const asked = { contents, editor: editor.trim(), paper, doubtFrom, maker, prefatory }
    const onProgress = (): void => told(Math.min(0.95, ++done / (STEPS + sung.voices.length)))
    return printBook({ page, readings, score: sung, conventions, head, ...asked, onProgress }, TOOLS)
  }
}

export const SCORE = {
  book: { ending: ".pdf", type: "application/pdf", make: book() },
  parts: { ending: ".parts.pdf", type: "application/pdf", make: book(["parts"]) },
  musicxml: {
    ending: ".musicxml",
    type: "application/vnd.recordare.musicxml+xml",
    make: musicXml,
    losses: musicXmlLosses,
  },
  mxl: {
    ending: ".mxl",
    type: "application/vnd.recordare.musicxml",
    make: piece => compressed(musicXml(piece)),
    losses: musicXmlLosses,
  },
  modern: {
    ending: ".modern.mei",
    type: "application/mei+xml",
    make: ({ sung, conventions }) => modernMei(sung, conventions),
    losses: ({ sung, conventions }) => modernMeiCannotCarry(sung, conventions),
  },
  midi: {
    ending: ".mid",
    type: "audio/midi",
    make: ({ sung, values }) => writeMidi(sung, values),
    losses: ({ sung, values }) => midiCannotCarry(sung, values),
  },
  scoreSvg: { ending: ".score.svg", type: "image/svg+xml", make: piece => scoreSvg(pictured(piece)) },
  scorePng: { ending: ".score.png", type: "image/png", make: piece => scorePng(pictured(piece), TOOLS) },
} as const satisfies Record<string, Format>
