/** From signs to time in five pictures of one scale: signs, perfections, imperfections, alterations, result. And all on one sheet. */
import type { SignId } from "../../base/index.js"
import type { Item, TimedSign, TimeVoice } from "../../drawing/index.js"
import type { Body, Plate, Room } from "./frame.js"
import { letters, paragraph, words } from "./letters.js"
import { isBlack, NEAR, type Passage } from "./passage.js"
import { fitStrip, type FittedStrip } from "./strip/fit.js"
import type { Rows } from "./strip/look.js"
import { groundsOf } from "./strip/over.js"
import { stepSentences } from "./step-sentences.js"
import { drawSteps } from "./strip/steps.js"

export const STEPS = ["Signs", "Perfections", "Imperfections", "Alterations", "Result"] as const
export type Step = 1 | 2 | 3 | 4 | 5

export interface StepSeries {
  /** Of one voice. */
  readonly passage: Passage
  readonly headline: string
  readonly caption: readonly string[]
  readonly note?: string
}

/** Five plates, then the sheet. */
export function stepSeries(series: StepSeries): { plates: Plate[]; sheet: Plate } {
  const { passage, headline, caption, note } = series
  const steps = stepsOf(passage)
  const sentences = stepSentences(passage, steps)
  const common = { headline, says: "", caption, black: isBlack(passage), ...(note === undefined ? {} : { note }) }
  const known = new Map<string, FittedSteps>()
  const fittedIn = (room: Room): FittedSteps => {
    const key = Object.values(room).join(" ")
    const fitted = known.get(key) ?? fitSteps(passage, sentences, room)
    known.set(key, fitted)
    return fitted
  }
  const plates = ([1, 2, 3, 4, 5] as const).map((step): Plate => ({
    ...common,
    alt: `Step ${step} of 5. ${sentences
      .slice(0, step)
      .map((text, i) => `${STEPS[i]}: ${text}`)
      .join(" ")}`,
    draw: room => drawStep(fittedIn(room), steps, step, room),
  }))
  const sheet: Plate = {
    ...common,
    alt: `All five steps, one under another. ${sentences.map((text, i) => `${STEPS[i]}: ${text}`).join(" ")}`,
    draw: room => drawSteps(passage, steps, room),
  }
  return { plates, sheet }
}

/** In which step each sign's length is found. */
export type Steps = ReadonlyMap<SignId, Step>

const WHOLE = new Set([
  "similis-ante-similem",
  "number-complete",
  "nothing-acts",
  "punctus-perfectionis",
  "duplex-longa",
])
const isImperfection = (rule: string): boolean => rule.startsWith("imperfectio") || /colo/.test(rule)

export function stepsOf({ voices, from, to }: Passage): Steps {
  const steps = new Map<SignId, Step>()
  const set = (id: SignId, step: Step) => void steps.set(id, Math.min(step, steps.get(id) ?? 5) as Step)
  for (const voice of voices)
    for (const timed of voice.signs) {
      if (timed.at < from - NEAR || timed.at >= to - NEAR || timed.held) continue
      const { rule } = timed.reading
      const step = ownStep(timed)
      set(timed.sign.id, step)
      if (step === 3 || step === 4) for (const taker of partners(timed, voice, rule)) set(taker, step)
    }
  return steps
}

function ownStep({ reading, duration, whole, parts }: TimedSign): Step {
  const { rule } = reading
  if (rule.startsWith("alteratio")) return 4
  if (isImperfection(rule)) return 3
  const full = parts === 3 && whole !== undefined && duration.num * whole.den === whole.num * duration.den
  return full && (WHOLE.has(rule) || (reading.kind === "rest" && reading.level === "brevis")) ? 2 : 5
}

/** Who took the third, or with whom an altered note fills the perfection: found in the same step. */
function partners({ reading, at, lasts, sign }: TimedSign, { byId }: TimeVoice, rule: string): SignId[] {
  return reading.because.filter(id => {
    const other = byId.get(id)
    if (!other || other.sign.id === sign.id || ownStep(other) !== 5) return false
    return rule.startsWith("alteratio") ? other.at < at : other.at < at || other.at <= at + lasts + NEAR
  })
}

/** What is shown of the music, and whether the sentences stand below it; less where there is little room. */
const SHOWN: readonly { readonly rows: Rows; readonly listed: boolean }[] = [
  { rows: { sung: true, words: true, sums: true, modern: "staff" }, listed: true },
  { rows: { sung: true, sums: true, modern: "staff" }, listed: true },
  { rows: { sung: true, modern: "staff" }, listed: true },
  { rows: { sung: true, sums: true, modern: "staff" }, listed: false },
  { rows: { sung: true, modern: "staff" }, listed: false },
  { rows: { modern: "staff" }, listed: false },
]

interface FittedSteps extends FittedStrip {
  readonly list: { readonly items: readonly Item[]; readonly height: number }
  /** The sentences stand below the music. */
  readonly listed: boolean
}

/** The same for all pictures of a series: what is found in them differs, not where it stands. */
function fitSteps(passage: Passage, sentences: readonly string[], room: Room): FittedSteps {
  const list = sentenceList(sentences, room)
  const rubrics = room.width > 1300 ? "left" : "above"
  const attempt = ({ rows, listed }: (typeof SHOWN)[number]): FittedSteps => {
    const height = room.height - (listed ? list.height + UNDER : 0)
    return { list, listed, ...fitStrip(passage, { ...rows, rubrics }, { ...room, height }, 34) }
  }
  let fitted = attempt(SHOWN[0]!)
  for (const shown of SHOWN.slice(1)) if (!fitted.fits) fitted = attempt(shown)
  return fitted
}
const UNDER = 30

function drawStep({ strip, fits, listed, list }: FittedSteps, steps: Steps, step: Step, room: Room): Body {
  const music = layers([...groundsOf(strip), ...strip.items], steps, step)
  if (!listed) return { items: music, height: strip.bottom - room.top, fits }
  const y = strip.bottom + UNDER
  const lines: Item = { shape: "group", part: "steps", x: room.left, y, content: list.items.slice(0, step) }
  return { items: [...music, lines], height: y + list.height - room.top, fits }
}

/** All five lines; a picture shows as many as it has come to. */
function sentenceList(sentences: readonly string[], room: Room): { items: Item[]; height: number } {
  const wide = room.width > 1300
  const size = wide ? 32 : 27
  const [text, name, step] = [words(size), words(size, { weight: 700 }), size * 1.25]
  const indent = size * 7.6
  let y = 0
  const items = sentences.map((sentence, i): Item => {
    const place = { x: indent, top: y, room: room.width - indent, step }
    const block = paragraph(sentence, place, text, { part: "step", fill: "ink" })
    const mark = letters(`${i + 1} ${STEPS[i]}`, 0, y + size * 0.8, name, { part: "step-name", fill: "red" })
    y += Math.max(step, block.height)
    return { shape: "group", part: "step-line", content: [mark, ...block.marks] }
  })
  return { items, height: y }
}

/** Marks of the music that belong to a step or an earlier one. */
export function layers(items: readonly Item[], steps: Steps, step: Step): Item[] {
  return items.flatMap((item): Item[] => {
    const own = itemStep(item, steps)
    if (own !== undefined) return own <= step ? [item] : []
    return item.shape === "group" ? [{ ...item, content: layers(item.content, steps, step) }] : [item]
  })
}

/** Undefined for a group that holds marks of several steps. */
function itemStep(item: Item, steps: Steps): Step | undefined {
  const { part } = item
  if (part === "perfection" || part === "pillar" || part === "bracket") return 2
  // ticks of all bands are one mark: before the last step some of them would stand without their bands
  if (part === "sum" || part === "tick" || part === "modern-staff") return 5
  if (part === "rubric" && item.shape === "text")
    return item.text === "as written" ? 1 : item.text === "as read" ? 5 : 2
  if (item.shape !== "group") return 1
  if (part === "duration" || part === "sleeve") return (item.sign && steps.get(item.sign)) ?? 5
  if (part === "why") return steps.get(item.data!["of"] as SignId) ?? 5
  return part === "voice" || part === "perfection-sum" ? undefined : 1
}
