/** The page in words, for whoever cannot see it. */
import { flatSigns, type Page, type Voice } from "../../page/index.js"

export function describePage(page: Page): string {
  const voices = page.voices.map(describeVoice)
  const count = `${page.voices.length} ${page.voices.length === 1 ? "voice" : "voices"} in old notation.`
  return [count, ...voices].join(" ")
}

function describeVoice(voice: Voice): string {
  const signs = flatSigns(voice).map(one => one.sign)
  const notes = signs.filter(sign => sign.kind === "note").length
  const ligatures = voice.signs.filter(sign => sign.kind === "ligature").length
  const clef = signs.find(sign => sign.kind === "clef")
  const parts = [
    `${notes} ${notes === 1 ? "note" : "notes"}`,
    ...(ligatures > 0 ? [`${ligatures} ${ligatures === 1 ? "ligature" : "ligatures"}`] : []),
    ...(clef ? [`${clef.shape} clef on line ${clef.line}`] : []),
  ]
  const text = textOf(voice)
  return `${voice.label || `Voice ${voice.n}`}: ${parts.join(", ")}${text === "" ? "" : `; “${text}”`}.`
}

/** The words of the first stanza, as far as an ear will follow. */
function textOf(voice: Voice): string {
  let text = ""
  for (const { sign } of flatSigns(voice))
    if (sign.kind === "note")
      for (const { stanza, text: syllable, join } of sign.syllables)
        if (stanza === 1) text += syllable + (join === "-" ? "" : " ")
  text = text.trim()
  return text.length > 160 ? `${text.slice(0, 160).replace(/\s+\S*$/, "")} …` : text
}

/** Names of what stands in the run of signs, is known to its format only, and therefore has no form to be drawn in. */
export function undrawnIn({ voices }: Page): string[] {
  return voices.flatMap(voice => flatSigns(voice).flatMap(({ sign }) => (sign.kind === "other" ? [sign.name] : [])))
}
