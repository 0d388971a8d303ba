/** A figure of any kind: its pictures, and its words for the file beside it. */
import { done, failed, ratio, toText, type Problem, type Result, type SignId } from "../../base/index.js"
import { ruledOf, type Scene, type TimeVoice } from "../../drawing/index.js"
import type { Page } from "../../page/index.js"
import { practiceNamed, settingsOf } from "../../practices/index.js"
import type { Reading } from "../../reading/index.js"
import { colorationPlate } from "./coloration.js"
import { divisionTrees, USUAL_TREES } from "./tables/trees.js"
import { divisionPlate } from "./tables/tree-drawing.js"
import { dotsPlate } from "./dots.js"
import { frame, type Framed, type Plate } from "./frame.js"
import { figureKind, FIGURE_KINDS } from "./kinds.js"
import { ligatureTable } from "./tables/ligatures.js"
import { ligaturePlate } from "./tables/ligature-drawing.js"
import { oldOverNew } from "./old-over-new.js"
import type { PracticeWish } from "./own-signs.js"
import { ownPage, passageOf, passageRead, type Passage, type PassagePart } from "./passage.js"
import { proportionTable, USUAL_PROPORTIONS } from "./tables/proportions.js"
import { proportionsPlate } from "./tables/proportion-drawing.js"
import { restTable, USUAL_SIGNS } from "./tables/rests.js"
import { restsPlate } from "./tables/rest-drawing.js"
import { USUAL_SIZE, type FigureSize } from "./sizes.js"
import { stepSeries } from "./step-series.js"
import { actingIn, captionFor } from "./sources.js"

export interface FigureAsked {
  /** One of `FIGURE_KINDS`. */
  readonly kind: string
  /** The piece with its readings, for the kinds that show one. */
  readonly piece?: { readonly page: Page; readonly readings: readonly Reading[] }
  /** The part of it; moments are in the score's unit. */
  readonly part?: PassagePart
  /** The sign that is asked about; null: none. */
  readonly select?: SignId | null
  /** Signs of mensuration or proportion, for trees, rests and proportions. */
  readonly signs?: readonly string[]
  /** For the kinds that show a practice rather than a piece. */
  readonly practice?: PracticeWish
  readonly size?: FigureSize
  /** In place of the headline. */
  readonly title?: string
  /** False: no caption in the picture. */
  readonly captioned?: boolean
  /** It is for a dark ground: that full heads are light there is then said. */
  readonly dark?: boolean
}

export interface FigurePicture {
  /** "" for the figure itself; "1" and so on for what comes before it or after it. */
  readonly number: string
  readonly scene: Scene
}

export interface Figure {
  readonly pictures: readonly FigurePicture[]
  /** In place of the picture, then the caption: for the file beside it. */
  readonly words: string
  /** How voices were shared among pictures, where they have no room in one: a sentence for whoever asked for the figure. */
  readonly made?: string
}

/** Draws it, or says what was wrong with what was asked. */
export function drawFigure(asked: FigureAsked): Result<Figure> {
  const kind = figureKind(asked.kind)
  if (!kind) return failed(unknownKind(asked.kind))
  const practice = practiceProblem(asked.practice)
  if (practice) return failed(practice)
  const plates = platesOf(kind.name, asked)
  if (!plates.ok) return plates
  const options = { size: asked.size ?? USUAL_SIZE, captioned: asked.captioned ?? true, dark: asked.dark ?? false }
  const titled = plates.value.map(({ number, plate }) => ({
    number,
    plate: asked.title === undefined ? plate : titledBy(plate, asked.title),
  }))
  const framed = titled.map(({ number, plate }) => ({ number, plate, all: frame(plate, options) }))
  if (framed.some(({ all }) => all.some(one => !one.fits)))
    return shorter(kind.name, asked) ?? failed(tooLarge(kind.name, options.size))
  const cutAt = Math.min(...framed.flatMap(({ all }) => all.map(one => one.cutAt ?? Infinity)))
  // drawn again, so that words and numbers are of what is shown
  if (Number.isFinite(cutAt)) return shownUpTo(cutAt, asked)
  const pictures = framed.flatMap(({ number, all }) => numbered(number, all))
  const made = framed[0]?.all[0]?.made
  return done({ pictures, words: wordsOf(framed), ...(made === undefined ? {} : { made }) })
}

/** Of a piece of which no end was asked for: as many perfections as can be shown; undefined where not even one can. */
function shorter(kind: string, asked: FigureAsked): Result<Figure> | undefined {
  if (kind !== "step-series" || !asked.piece || asked.part?.to) return undefined
  const { voices, from } = passageFor(asked, "")
  const ends = voices[0] ? ruledOf(told(voices), Infinity).pillars.filter(one => one.at > from) : []
  for (const n of [16, 12, 9, 7, 5, 4, 3, 2, 1]) {
    const end = ends[n - 1]
    const figure = end && shownUpTo(end.at, asked)
    if (figure?.ok) return figure
  }
  return undefined
}

function shownUpTo(end: number, asked: FigureAsked): Result<Figure> {
  const to = ratio(Math.round(end * 5040), 5040)
  const figure = drawFigure({ ...asked, part: { ...asked.part, to } })
  return figure.ok ? { ...figure, problems: [...figure.problems, shownTo(toText(to))] } : figure
}

const shownTo = (moment: string): Problem => ({
  code: "shown-in-part",
  what: `Only the beginning is shown, up to ${moment}: the whole would be too long.`,
  mend: "Choose a passage with --from and --to, or --signs “tenor 3..12”.",
})

/** The first of several pictures of one plate has its name, the next ones are numbered from 2. */
const numbered = (number: string, all: readonly Framed[]): FigurePicture[] =>
  all.map(({ scene }, i) => ({
    number: i === 0 ? number : number === "" ? String(i + 1) : `${number}-${i + 1}`,
    scene,
  }))

interface NumberedPlate {
  readonly number: string
  readonly plate: Plate
}
const single = (plate: Plate): Result<NumberedPlate[]> => done([{ number: "", plate }])

function platesOf(kind: string, asked: FigureAsked): Result<NumberedPlate[]> {
  const practice = asked.practice ?? { name: kind === "ligature-table" || kind === "dots" ? "ars-nova" : "white" }
  switch (kind) {
    case "old-over-new":
      return passagePlate(asked)
    case "step-series":
      return stepPlates(asked)
    case "division-tree": {
      const trees = divisionTrees(asked.signs ?? USUAL_TREES, practice)
      return trees.ok ? single(divisionPlate(trees.value, practice)) : trees
    }
    case "ligature-table":
      return single(ligaturePlate(ligatureTable(practice)))
    case "rests":
      return single(restsPlate(restTable(practice, asked.signs ?? USUAL_SIGNS)))
    case "coloration": {
      const plate = colorationPlate(practice.name)
      return plate.ok ? single(plate.value) : plate
    }
    case "proportions": {
      const table = proportionTable(asked.signs ?? USUAL_PROPORTIONS, practice)
      return table.ok ? single(proportionsPlate(table.value)) : table
    }
    default:
      return single(dotsPlate())
  }
}

/** Lines of our own, where no piece is given. */
const OWN_LINE = `voice cantus black practice=ars-nova
clef:C1 O
B g4 S a B b S a g B f g L e`
const OWN_STEPS = `voice cantus black practice=ars-nova
clef:C1 O
B g4 S a B b S a g B f rB S e B f L g`

function passageFor({ piece, part }: FigureAsked, own: string): Passage {
  return piece ? passageRead(piece.page, piece.readings, part) : passageOf(ownPage(own))
}

function passagePlate(asked: FigureAsked): Result<NumberedPlate[]> {
  const passage = passageFor(asked, OWN_LINE)
  if (isEmpty(passage)) return failed(NOTHING)
  const { select, piece, part } = asked
  const own = piece
    ? noteOf(piece.page.title)
    : { headline: "Two lozenges alike, one twice as long", note: "invented line" }
  const inPart = piece !== undefined && part?.to === undefined
  return single(oldOverNew({ passage, ...own, inPart, ...(select === undefined ? {} : { select }) }))
}

/** Of one voice: the one that is named, or the first with something to find. */
function stepPlates(asked: FigureAsked): Result<NumberedPlate[]> {
  const all = passageFor(asked, OWN_STEPS)
  if (isEmpty(all)) return failed(NOTHING)
  const voice = told(all.voices)
  const passage: Passage = { ...all, voices: [voice] }
  const named = all.page.title === "" ? "From signs to time, in five steps" : `${all.page.title}: ${voice.voice.label}`
  const { plates, sheet } = stepSeries({
    passage,
    headline: named,
    caption: [captionFor(actingIn(passage))],
    ...(asked.piece ? {} : { note: "invented line" }),
  })
  return done([...plates.map((plate, i) => ({ number: String(i + 1), plate })), { number: "", plate: sheet }])
}

/** A headline that was asked for stands over all pictures. */
function titledBy({ elsewhere: _, ...plate }: NumberedPlate["plate"], headline: string): NumberedPlate["plate"] {
  return { ...plate, headline }
}

/** Which piece it is; a headline may say so already, but need not. */
const noteOf = (title: string): { note?: string } => (title.trim() === "" ? {} : { note: title.trim() })

/** The first voice in which there is something to find. */
const told = (voices: readonly TimeVoice[]): TimeVoice =>
  voices.find(one => one.signs.some(({ reading }) => /^(imperfectio|alteratio)/.test(reading.rule))) ?? voices[0]!

const isEmpty = ({ voices, from, to }: Passage): boolean =>
  !voices.some(voice => voice.signs.some(one => one.at >= from - 1e-6 && one.at < to))

const NOTHING: Problem = {
  code: "nothing-to-show",
  what: "There is no note or rest in this passage.",
  mend: "Choose another part with --from and --to, or other voices.",
  severity: "error",
}

const unknownKind = (name: string): Problem => ({
  code: "unknown-figure",
  what: `There is no figure of the kind “${name}”.`,
  mend: `The kinds are: ${FIGURE_KINDS.map(one => one.name).join(", ")}.`,
  severity: "error",
})

const tooLarge = (kind: string, { name }: FigureSize): Problem => ({
  code: "figure-too-large",
  what: `This does not fit a picture of the size ${name} with letters that can still be read.`,
  mend:
    kind === "old-over-new" || kind === "step-series"
      ? "Choose a shorter passage (--from and --to, or --signs “tenor 3..12”), fewer voices (--voice), or a larger size (vertical, a4). Many voices at once: resolutio draw --view time --compact."
      : "Name fewer signs, or choose a larger size (1920x1080, vertical, a4).",
  severity: "error",
})

function practiceProblem(practice: PracticeWish | undefined): Problem | undefined {
  if (!practice) return undefined
  const known = practiceNamed(practice.name)
  if (!known)
    return {
      code: "unknown-practice",
      what: `There is no practice “${practice.name}”.`,
      mend: "Name one of those that resolutio read --practice takes.",
      severity: "error",
    }
  const settings = settingsOf(known, practice.options ?? {})
  return settings.ok ? undefined : settings.problems[0]
}

/** Headline, the pictures in words, the caption: what a reader of the text needs, in that order. */
function wordsOf(framed: readonly { readonly plate: Plate; readonly all: readonly Framed[] }[]): string {
  const main = framed.at(-1)!.plate
  const each = framed.flatMap(({ all }) => all.map(one => one.scene.description))
  const sheet = framed.length > 1 ? each.length - 1 : Infinity
  const pictures = each.length > 1 ? each.map((one, i) => `${i < sheet ? `Picture ${i + 1}` : "Sheet"}: ${one}`) : each
  return [main.headline, "", ...pictures, "", main.says, ...main.caption, main.note ?? ""]
    .filter((line, i, all) => line !== "" || (i > 0 && all[i - 1] !== ""))
    .join("\n")
    .trimEnd()
    .concat("\n")
}
