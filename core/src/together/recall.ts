/**
 * Voices that were read a little while ago. Undone and done again, a change gives a voice as it was before: put back as the very
 * same, it need not be read a second time, nor the voices be searched again.
 */
import type { Page, Voice } from "../page/index.js"
import type { WorkedVoice } from "../reading/read-voice.js"
import type { Together } from "./read-together.js"

/** So many readings are remembered. */
const REMEMBERED = 6

export class Recall {
  /** The last first. */
  private known: readonly Together[] = []

  keep(read: Together): void {
    const others = this.known.filter(one => !isOf(one, read.worked))
    this.known = [read, ...others].slice(0, REMEMBERED)
  }

  /** The page, with the very voices that it had when they were last read so. */
  page(page: Page): Page {
    const voices = page.voices.map(voice => this.find(one => isAlike(one, voice))?.voice ?? voice)
    return voices.every((voice, i) => voice === page.voices[i]) ? page : { ...page, voices }
  }

  /** What to read the page from, after `last`: what was known of it when it was the same; else of each voice. */
  before(page: Page, last: Together): Together {
    const whole = this.known.find(one =>
      isOf(
        one,
        page.voices.map(voice => ({ voice })),
      ),
    )
    if (whole !== undefined) return whole
    const worked = page.voices.flatMap(
      voice => this.find(one => one === voice) ?? last.worked.find(one => one.voice.id === voice.id) ?? [],
    )
    // what was found out from all signs together was found out from none that looked like this
    return worked.length === page.voices.length &&
      isOf(
        { worked },
        page.voices.map(voice => ({ voice })),
      )
      ? last
      : { ...last, worked }
  }

  private find(is: (voice: Voice) => boolean): WorkedVoice | undefined {
    for (const { worked } of this.known) for (const one of worked) if (is(one.voice)) return one
    return undefined
  }
}

const isOf = ({ worked }: Pick<Together, "worked">, voices: readonly { readonly voice: Voice }[]): boolean =>
  worked.length === voices.length && worked.every(({ voice }, i) => voice === voices[i]!.voice)

function isAlike(a: Voice, b: Voice): boolean {
  if (a === b) return true
  if (a.id !== b.id || a.signs.length !== b.signs.length) return false
  const { signs: one, ...restA } = a
  const { signs: other, ...restB } = b
  return one.every((sign, i) => saysSame(sign, other[i])) && saysSame(restA, restB)
}

/** Most are the same objects; the few that are not are small. */
const saysSame = (a: unknown, b: unknown): boolean => a === b || JSON.stringify(a) === JSON.stringify(b)
