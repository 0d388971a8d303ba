/** Where the signs of the old page stand in the text, and which of them cannot be changed where they stand. */
import type { SignId } from "../../../base/index.js"
import { everySign, type Page, type Sign } from "../../../page/index.js"
import type { Source, VoiceDraft } from "../read/reader.js"
import type { Traced } from "../document.js"
import { attribute, type XmlElement } from "../xml.js"
import { same } from "../../../page/index.js"
import { isBreak } from "../read/signs.js"

export interface Origins {
  of(sign: Sign): Source | undefined
  /**
   * Signs that share what they are written in with others, or are attributes of a definition, and of which one has
   * changed: what they were written in is taken out, and those still wanted are written anew, each for itself.
   */
  readonly dissolved: ReadonlySet<SignId>
  /** Elements and attributes to take out for that. */
  readonly elements: ReadonlySet<XmlElement>
  readonly attributes: readonly (readonly [XmlElement, string])[]
}

interface User {
  readonly sign: Sign
  readonly source: Source
  readonly holders: readonly (readonly [XmlElement, string])[]
}

export function originsOf(traced: Traced, page: Page): Origins {
  const { sources, reader, document } = traced
  const drafts = [...reader.voices.values()].filter(voice => !voice.passedOver)
  const now = new Map(page.voices.flatMap(voice => [...everySign(voice.signs)].map(sign => [sign.id, sign] as const)))
  const kept = new Set(page.voices.map(voice => voice.id))
  const users: User[] = document.original.voices.flatMap((voice, index) =>
    kept.has(voice.id) ? usersIn(voice.signs, drafts[index]!, sources) : [],
  )
  const dissolved = new Set<SignId>()
  const elements = new Set<XmlElement>()
  const attributes: (readonly [XmlElement, string])[] = []
  const shared = sharing(users)
  // what a decision is to point to needs an element of its own
  const pointedTo = new Set(page.decisions?.map(one => one.sign))
  const changed = users.filter(
    ({ sign, source }) => !same(now.get(sign.id), sign) || (pointedTo.has(sign.id) && source.attributes !== undefined),
  )
  for (const user of changed) dissolve(user)
  return { of: sign => sources.get(sign.id), dissolved, elements, attributes }

  function dissolve(user: User): void {
    if (dissolved.has(user.sign.id)) return
    const others = keysOf(user)
      .flatMap(([element, name]) => shared.get(element)?.get(name) ?? [])
      .filter(other => other !== user)
    const plain = user.source.attributes === undefined && others.length === 0
    if (plain || !canDissolve(user.source)) return
    dissolved.add(user.sign.id)
    if (user.holders.length > 0) attributes.push(...user.holders)
    else elements.add(user.source.element)
    for (const other of others) dissolve(other)
  }
}

/** Movements, sections and endings hold the music and stay. */
function canDissolve({ element, attributes }: Source): boolean {
  return isBreak(element.localName) || element.localName === "barLine" || (attributes?.length ?? 0) > 0
}

function usersIn(signs: readonly Sign[], draft: VoiceDraft, sources: ReadonlyMap<SignId, Source>): User[] {
  return [...everySign(signs)].flatMap(sign => {
    const source = sources.get(sign.id)
    if (!source) return []
    const chain = [source.element, ...draft.definitions]
    const holders = (source.attributes ?? []).flatMap(name => {
      const holder = chain.find(one => attribute(one, name) !== undefined)
      return holder ? [[holder, name] as const] : []
    })
    return [{ sign, source, holders }]
  })
}

/** What a sign is written in: attributes of a definition, or an element (with "" for a name). */
function keysOf(user: User): readonly (readonly [XmlElement, string])[] {
  return user.holders.length > 0 ? user.holders : [[user.source.element, ""]]
}

function sharing(users: readonly User[]): Map<XmlElement, Map<string, User[]>> {
  const shared = new Map<XmlElement, Map<string, User[]>>()
  for (const user of users)
    for (const [element, name] of keysOf(user)) {
      const byName = shared.get(element) ?? new Map<string, User[]>()
      shared.set(element, byName)
      const known = byName.get(name)
      if (known) known.push(user)
      else byName.set(name, [user])
    }
  return shared
}
