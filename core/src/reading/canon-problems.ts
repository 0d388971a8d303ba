/** What is told of a canon that is not understood, or only in part. */
import type { Problem } from "../base/index.js"
import type { Mark, Voice } from "../page/index.js"

const quoted = ({ text }: Mark): string => (text ? ` “${text}”` : "")

/** A way to say it that can be typed. */
const say = ({ label }: Voice, canon: string): string => `resolutio decide FILE "${label} 1" --canon '${canon}' -o NAME`

export const riddle = (voice: Voice, mark: Mark): Problem => ({
  code: "canon-not-understood",
  what: `What the canon${quoted(mark)} of ${voice.label} asks for is not of the fixed kind; the part is sung as it is written.`,
  where: { sign: mark.id, place: voice.label },
  mend: `Say how it is sung, for two voices at the fifth below: ${say(voice, "voice voice=(after=2B interval=-5)")}; if it is sung as written: --canon 'voice'.`,
})

export const entryMissing = (voice: Voice, mark: Mark): Problem => ({
  code: "canon-entry-missing",
  what: `The canon${quoted(mark)} of ${voice.label} does not say when the other voice enters, and no signum congruentiae shows it; all begin together.`,
  where: { sign: mark.id, place: voice.label },
  mend: `Say when: ${say(voice, "voice voice=(after=2B)")}, or put the signum where it enters.`,
})

export const supposed = (voice: Voice, mark: Mark, what: readonly string[]): Problem => ({
  code: "canon-supposed",
  what: `The canon${quoted(mark)} of ${voice.label} does not say whether above or below; ${what.join(" and ")} is supposed.`,
  where: { sign: mark.id, place: voice.label },
  mend: `If it is below, say so: ${say(voice, "voice voice=(after=2B interval=-5)")}.`,
})

export const stray = (voice: Voice, number: number, count: number): Problem => ({
  code: "canon-signum-missing",
  what: `The canon of ${voice.label} names signum ${number}, but the part has ${count === 0 ? "none" : count}.`,
  where: { place: voice.label },
  mend: "Name another, or put the signum congruentiae where it stands on the page.",
})
