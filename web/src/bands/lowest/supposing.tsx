import type { SignId } from "@resolutio/core"
import { useEffect, useMemo, useState, type ReactNode } from "react"
import { useApp, useDocument, useReading, useView } from "../../app.js"
import { ActButton } from "../../parts/act-button.js"
import { useKeysFirst } from "../../parts/use-keys-first.js"
import type { Effect, EffectOn } from "../../reading/messages.js"
import { suppositionsOf } from "../../reading/suppositions.js"
import { select, view, type Supposed } from "../../view/view.js"
import { words } from "../../words/index.js"

const said = words.suppose

/** What might be supposed of a sign; or, once something is, what would follow. */
export function Supposing({ sign }: { readonly sign: SignId }) {
  const supposed = useView(state => state.supposed)
  return supposed ? <Supposition supposed={supposed} /> : <Choices sign={sign} />
}

function Choices({ sign }: { readonly sign: SignId }) {
  const page = useDocument(state => state.page)
  const choices = useMemo(() => suppositionsOf(page, sign), [page, sign])
  const first = useKeysFirst<HTMLDivElement>()
  return (
    <div ref={first}>
      <h3 className="title headline">{said.title}</h3>
      <p className="quiet">{said.how}</p>
      <ul className="choice-list">
        {choices.map(({ words: text, change }) => (
          <li key={text}>
            <button
              type="button"
              className="line-act"
              onClick={() => view.setState({ supposed: { change, words: text } })}
            >
              … {text}
            </button>
          </li>
        ))}
      </ul>
      <ActButton id="back" />
    </div>
  )
}

function Supposition({ supposed }: { readonly supposed: Supposed }) {
  const effect = useEffectOf(supposed)
  const first = useKeysFirst<HTMLDivElement>()
  return (
    // not an act: a second Enter is to do nothing
    <div className="reason" ref={first} data-first tabIndex={-1}>
      <div className="told" aria-live="polite">
        <h3 className="title headline">{said.if(supposed.words)}</h3>
        {effect ? <EffectTold effect={effect} /> : <p className="quiet">{words.status.reading}</p>}
      </div>
      <div className="choices">
        <MakeItSo supposed={supposed} />
        <ActButton id="back" framed say={said.back} />
      </div>
    </div>
  )
}

/** What is supposed becomes a change of the piece. */
export function MakeItSo({ supposed }: { readonly supposed: Supposed }) {
  const { documents } = useApp()
  const makeSo = (): void => {
    const { change, words: text } = supposed
    view.setState({ supposed: undefined, asking: undefined })
    documents.act(change, words.steps.supposed(text))
  }
  return (
    <button type="button" className="act framed" onClick={makeSo}>
      {said.makeSo}
    </button>
  )
}

/** "cantus 4: 3 minims, not 2"; both in one unit. */
const became = ({ place, before, after, unit, isShort }: EffectOn): string =>
  said.became(place, before, unit === undefined ? after : `${after} ${said.units[unit][isShort ? 0 : 1]}`)

/** So many changes are listed. */
const MOST = 12

/** `children` stand before the list of signs. `whole`: which comes first, and whether the voices meet even where that stays as it is. */
export function EffectTold({
  effect,
  whole = false,
  children,
}: {
  readonly effect: Effect
  readonly whole?: boolean
  readonly children?: ReactNode
}) {
  const { changes, first, fit, asBefore } = effect
  return (
    <>
      <p className="sentence">
        {changes.length === 0
          ? said.nothing
          : whole && first
            ? said.otherwiseFrom(changes.length, became(first))
            : said.otherwise(changes.length)}{" "}
        {!asBefore ? fit : whole ? said.asBefore(fit) : ""}
      </p>
      {children}
      <ul className="choice-list">
        {changes.slice(0, MOST).map(one => (
          <li key={one.sign}>
            <button type="button" className="line-act" onClick={() => select(one.sign)}>
              {became(one)}
            </button>
          </li>
        ))}
      </ul>
    </>
  )
}

/** What would be read otherwise, once the voices have been read with it. */
export function useEffectOf(supposed: Supposed | undefined): Effect | undefined {
  const { readings } = useApp()
  const revision = useReading(state => state.revision)
  const [effect, setEffect] = useState<{ readonly of: Supposed | undefined; readonly effect: Effect }>()
  useEffect(() => {
    let stale = false
    if (!supposed) return undefined
    void readings.effect().then(one => !stale && one && setEffect({ of: supposed, effect: one }))
    return () => {
      stale = true
    }
  }, [readings, supposed, revision])
  return effect && effect.of === supposed ? effect.effect : undefined
}
