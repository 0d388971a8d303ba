/** What it would be to read voices by another practice, or by the same with another option. */
import {
  practiceNamed,
  type OptionSpec,
  type Page,
  type PageChange,
  type Reading,
  type Voice,
  type VoiceId,
} from "@resolutio/core"
import { plainValue } from "../bands/lowest/option-words.js"
import type { Supposed } from "../view/view.js"
import { words } from "../words/index.js"

export interface PracticeSupposed {
  /** Undefined: all. */
  readonly voice?: VoiceId
  /** Undefined: that by which each voice is read. */
  readonly practice?: string
  /** Only those that are to be otherwise. */
  readonly options: Readonly<Record<string, string>>
}

const said = words.suppose

/** The practices by which voices are read, by the voice's id. */
export type Practices = ReadonlyMap<VoiceId, Reading["practice"]>

export const voicesOf = ({ voices }: Page, { voice }: PracticeSupposed): readonly Voice[] =>
  voices.filter(one => voice === undefined || one.id === voice)

/** The practice whose options can be chosen; undefined where the voices have several. */
export function practiceOf(page: Page, now: Practices, asked: PracticeSupposed): string | undefined {
  const names = new Set(voicesOf(page, asked).map(one => asked.practice ?? now.get(one.id)?.name))
  return names.size === 1 ? [...names][0] : undefined
}

/** An option's value as it would be; where the voices differ, the first one's. */
export function valueOf(
  page: Page,
  now: Practices,
  asked: PracticeSupposed,
  option: { readonly name: string; readonly default: string },
): string {
  const [first] = voicesOf(page, asked)
  const own = asked.practice === undefined && first ? now.get(first.id)?.options[option.name] : undefined
  return asked.options[option.name] ?? own ?? option.default
}

const meaningOf = (options: readonly OptionSpec[], name: string): string =>
  options.find(one => one.name === name)?.meaning ?? name

/** The change, and what it is in words that follow "If"; undefined where nothing would be otherwise. */
export function practiceSupposed(page: Page, now: Practices, asked: PracticeSupposed): Supposed | undefined {
  const { practice, options } = asked
  const chosen = Object.entries(options)
  if (practice === undefined && chosen.length === 0) return undefined
  const voices = voicesOf(page, asked)
  const changes = voices.map((voice): PageChange => {
    const name = practice ?? now.get(voice.id)!.name
    const kept = practice === undefined ? voice.practice?.options : undefined
    return { kind: "set-voice", voice: voice.id, set: { practice: { name, options: { ...kept, ...options } } } }
  })
  const [only] = voices
  const who = voices.length > 1 ? said.allVoices : only ? only.label || only.n : ""
  const title = practice === undefined ? "" : (practiceNamed(practice)?.title ?? practice)
  const known = practiceNamed(practiceOf(page, now, asked) ?? "")?.options ?? []
  const withOptions = chosen.map(([name, value]) => said.withOption(meaningOf(known, name), plainValue(value)))
  return {
    change: { kind: "several", changes },
    words: said.readBy(who, voices.length > 1, title, withOptions.join("; ")),
  }
}
