/** What was found written into the page, as an editor's supplied signs: marked, with the reason, and undone like any change. */
import type { SignId } from "../../base/index.js"
import { idGiver, type MensurationSign, type Page, type PageChange, type Sign, type Voice } from "../../page/index.js"
import type { Divisions } from "../../practices/index.js"
import { levelsOf } from "./measures.js"
import { LEVEL_NAMES, type Found, type LevelName, type VoiceFound } from "./types.js"

/** From these doubts on the certainty is said to be middling, or low. */
const MIDDLING = 0.1
const LOW = 0.5

/** Signs for the levels that the file does not state, and the practice of a voice that does not say it. */
export function supplyFound(page: Page, found: Found): PageChange {
  const giveId = idGiver(page, "supplied-")
  const changes = page.voices.flatMap(voice => {
    const one = found.voices.find(({ voice: id }) => id === voice.id)
    return one === undefined
      ? []
      : [...practiceChange(voice, one), ...signChange(voice, one, giveId), ...laterSigns(voice, one, giveId)]
  })
  return { kind: "several", changes }
}

function practiceChange(voice: Voice, { practice }: VoiceFound): PageChange[] {
  if (voice.practice !== undefined || practice.from !== "inferred") return []
  const { name } = practice
  return [{ kind: "set-voice", voice: voice.id, set: { practice: { name, options: {} } } }]
}

function signChange(voice: Voice, found: VoiceFound, giveId: () => SignId): PageChange[] {
  const open = suppliedLevels(found)
  if (found.from === "given" || found.candidates.length === 0 || open.length === 0) return []
  const sign: MensurationSign = {
    kind: "mensuration",
    id: giveId(),
    ...(open.includes("tempus") && open.includes("prolatio") ? drawn(found.divisions) : {}),
    ...Object.fromEntries(open.map(level => [level, found.divisions[level]])),
    editorial: { kind: "supplied", cert: certainty(found.doubt), reason: reasonOf(found) },
  }
  const before = firstInRun(voice)
  return [{ kind: "insert-sign", voice: voice.id, ...(before === undefined ? {} : { before }), sign }]
}

/** A sign where the voice is read by another mensuration from there on. */
function laterSigns(voice: Voice, { changes, divisions }: VoiceFound, giveId: () => SignId): PageChange[] {
  const used = changes.filter(one => one.used)
  return used.map(({ from, divisions: after, doubt, what }, i): PageChange => {
    const own = used[i - 1]?.divisions ?? divisions
    const turned = LEVEL_NAMES.filter(level => after[level] !== own[level])
    const sign: MensurationSign = {
      kind: "mensuration",
      id: giveId(),
      ...(turned.some(level => level === "tempus" || level === "prolatio") ? drawn(after) : {}),
      ...Object.fromEntries(turned.map(level => [level, after[level]])),
      editorial: {
        kind: "supplied",
        cert: certainty(doubt),
        reason: `found from the notes, doubt ${doubt.toFixed(2)}: ${what}`,
      },
    }
    const before = voice.signs.find(one => one.id === from || (one.kind === "ligature" && one.members[0]?.id === from))
    return { kind: "insert-sign", voice: voice.id, ...(before && { before: before.id }), sign }
  })
}

/** What a scribe would draw for tempus and prolation from the Ars nova on, so that the page shows it; a modus has no sign. */
const drawn = ({ tempus, prolatio }: Divisions): Pick<MensurationSign, "sign" | "dots"> => ({
  sign: tempus === 3 ? "O" : "C",
  ...(prolatio === 3 && { dots: 1 }),
})

/** Levels that are neither stated nor unknown to the practice. */
export function suppliedLevels({ practice, stated }: VoiceFound): LevelName[] {
  return levelsOf(practice.name).filter(level => !stated.includes(level))
}

/** Before the first sign that does not belong to the definition of the voice. */
function firstInRun({ signs }: Voice): SignId | undefined {
  const isInitial = (sign: Sign): boolean => "initial" in sign && sign.initial === true
  return signs.find(sign => !isInitial(sign))?.id
}

const certainty = (doubt: number): string => (doubt >= LOW ? "low" : doubt >= MIDDLING ? "medium" : "high")

function reasonOf({ doubt, candidates }: VoiceFound): string {
  const facts = (candidates[0]?.evidence ?? []).filter(one => one.weight > 0).map(one => one.what)
  const why = facts.length > 0 ? `: ${facts.slice(0, 2).join("; ")}` : ""
  return `found from the notes, doubt ${doubt.toFixed(2)}${why}`
}
