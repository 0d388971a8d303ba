/** What an emendation would bring, in a sentence or two. */
import type { Page } from "../../page/index.js"
import type { Reading } from "../../reading/index.js"
import { stepNumber } from "../../reading/pitches.js"
import { fitOf } from "../../score/index.js"
import { pitchOf } from "../../score/pitch.js"
import { sounding } from "../hearing.js"
import type { Together } from "../read-together.js"
import { disagreements } from "../repeats.js"
import { ticksIn, type Backdrop, type Factor } from "../backdrop.js"
import type { Laid, Stage } from "./stage.js"

export function reasonOf(stage: Stage, page: Page, after: Together, { backdrop, factor, worked }: Laid): string {
  const at = stage.page.voices.findIndex(voice => voice.id === worked.voice.id)
  const label = /^\d+$/.test(worked.voice.label) ? `voice ${worked.voice.label}` : worked.voice.label
  const all = sounding(stage.together.worked).length
  const [was, is] = [stage.together.meeting.length, after.meeting.length]
  const discords = (together: Together): number => discordsOf(together.readings[at]!, backdrop, factor)
  const [old, now] = [discords(stage.together), discords(after)]
  const fellows = disagreements(stage.page, stage.together.readings) - disagreements(page, after.readings)
  const parts = [
    ...(was < all && is === all ? ["The voices meet at their finals again."] : []),
    ...(was < is && is < all ? [`${is} of ${all} voices then meet at their finals.`] : []),
    ...(was === all && is === all && !meetBefore(stage.together) && meetBefore(after)
      ? ["The voices then meet at every sign where they should."]
      : []),
    ...(is <= was && is < all ? ["The finals are not yet together with it: there is more amiss."] : []),
    ...(now < old
      ? [
          `${old === 1 ? `One note of ${label} begins` : `${old} notes of ${label} begin`} in discord with the other voices; with the change ${now === 0 ? "none" : now}.`,
        ]
      : []),
    ...(fellows > 0 ? ["The statements of the tenor agree better."] : []),
  ]
  return parts.length > 0 ? parts.join(" ") : "By the rules and the other voices the passage is likelier so."
}

/** At the ends of sections and at signa congruentiae. */
const meetBefore = ({ readings }: Together): boolean => fitOf(readings).together

function discordsOf(reading: Reading, backdrop: Backdrop, factor: Factor): number {
  let found = 0
  const by = factor(reading)
  for (const sign of reading.signs) {
    const pitch = sign.kind === "note" ? pitchOf(sign.pitch) : null
    if (pitch === null || sign.duration.num <= 0) continue
    let clashes = false
    backdrop.met({ step: stepNumber(pitch), byStep: false, falls: false }, ticksIn(sign.onset, by), (_, __, kind) => {
      if (kind === "discord" || kind === "discordByStep") clashes = true
    })
    if (clashes) found++
  }
  return found
}
