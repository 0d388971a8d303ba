/** Each voice read by itself, here and now: what is told of a sign until the voices have been read together. */
import {
  readVoice,
  rereadVoice,
  type Page,
  type Reading,
  type ReadOptions,
  type SignId,
  type Voice,
  type VoiceId,
} from "@resolutio/core"
import { voiceOf } from "../document/index-signs.js"
import { tell, type Told } from "./tell.js"

interface Known {
  readonly voice: Voice
  readonly reading: Reading
  readonly options: ReadOptions
}

export class OwnReadings {
  readonly #known = new Map<VoiceId, Known>()
  #assumed: ReadOptions["assumed"]

  /** What was found out of the voices when they were read together. */
  assume(assumed: ReadOptions["assumed"]): void {
    // most often the same is told again, in a copy: then nothing need be read anew
    if (!saysSame(this.#assumed, assumed)) this.#assumed = assumed
  }

  /** After a change only what it can touch is worked out again. */
  of(page: Page, voice: Voice): Reading {
    const known = this.#known.get(voice.id)
    const options = this.#options(page)
    if (known?.voice === voice && same(known.options, options)) return known.reading
    const reading = known ? rereadVoice(known.reading, voice, options) : readVoice(voice, options)
    this.#known.set(voice.id, { voice, reading, options })
    return reading
  }

  /** Of the voice in which the sign stands. Several ask for the same at once: what was told last is kept. */
  tell(page: Page, sign: SignId): Told | undefined {
    const voice = voiceOf(page, sign)
    const reading = voice && this.of(page, voice)
    if (!reading) return undefined
    const last = this.#told
    if (last?.page === page && last.reading === reading && last.told.sign === sign) return last.told
    const told = tell(page, [reading], sign)
    this.#told = told && { page, reading, told }
    return told
  }
  #told: { readonly page: Page; readonly reading: Reading; readonly told: Told } | undefined

  forget(): void {
    this.#known.clear()
    this.#assumed = undefined
  }

  #options({ shapes, decisions }: Page): ReadOptions {
    return {
      ...(shapes.length > 0 ? { shapes } : {}),
      ...(decisions ? { pageDecisions: decisions } : {}),
      ...(this.#assumed ? { assumed: this.#assumed } : {}),
    }
  }
}

const saysSame = (a: ReadOptions["assumed"], b: ReadOptions["assumed"]): boolean =>
  JSON.stringify([...(a ?? [])]) === JSON.stringify([...(b ?? [])])

const same = (a: ReadOptions, b: ReadOptions): boolean =>
  a.shapes === b.shapes && a.pageDecisions === b.pageDecisions && a.assumed === b.assumed
