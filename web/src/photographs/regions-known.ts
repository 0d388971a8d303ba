/** Which region each sign of a voice stands in: worked out once for a voice as it is. */
import { writing, type Page, type SignId, type Voice, type VoiceId } from "@resolutio/core"
import { flatOf, indexIn, voiceOf } from "../document/index-signs.js"

interface Known {
  readonly along: readonly (string | undefined)[]
  /** The first sign of each region that can be selected. */
  readonly first: ReadonlyMap<string, SignId>
}
const known = new WeakMap<Voice, Known>()

function regionsIn(voice: Voice): Known {
  const found = known.get(voice)
  if (found) return found
  const along = writing.regionsAlong(voice)
  const first = new Map<string, SignId>()
  flatOf(voice).forEach(({ sign }, i) => {
    const zone = along[i]
    if (zone !== undefined && sign.kind !== "break" && !first.has(zone)) first.set(zone, sign.id)
  })
  const made = { along, first }
  known.set(voice, made)
  return made
}

export function regionAt(page: Page, sign: SignId | undefined): string | undefined {
  const voice = sign === undefined ? undefined : voiceOf(page, sign)
  const at = voice && indexIn(voice, sign!)
  return voice && at !== undefined ? regionsIn(voice).along[at] : undefined
}

/** Where a region begins; undefined where no sign stands in it. */
export function beginningAt(page: Page, zone: string): { readonly voice: VoiceId; readonly sign: SignId } | undefined {
  for (const voice of page.voices) {
    const sign = regionsIn(voice).first.get(zone)
    if (sign !== undefined) return { voice: voice.id, sign }
  }
  return undefined
}
