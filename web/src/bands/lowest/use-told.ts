import type { SignId } from "@resolutio/core"
import { useEffect, useState } from "react"
import { useApp, useReading } from "../../app.js"
import type { Told } from "../../reading/tell.js"

export interface ToldNow {
  readonly told: Told | undefined
  /** Only its own voice has been read. */
  readonly alone: boolean
}

/**
 * What is said of a sign. The voices together say it; until they have been read its own voice does, so that a key press has its
 * answer at once. An answer that comes soon is waited for: words that change under the eye are worse than a moment's delay.
 */
export function useTold(sign: SignId | undefined): ToldNow {
  const { readings } = useApp()
  const revision = useReading(state => state.revision)
  const read = useReading(state => state.read)
  const summary = useReading(state => state.summary)
  const [answer, setAnswer] = useState<{ sign: SignId; revision: number; told: Told | undefined }>()
  useEffect(() => {
    let stale = false
    if (sign !== undefined) void readings.told(sign).then(told => !stale && setAnswer({ sign, revision, told }))
    return () => {
      stale = true
    }
  }, [readings, sign, revision, summary])
  if (sign === undefined) return { told: undefined, alone: false }
  if (answer?.sign === sign && answer.revision === revision) return { told: answer.told, alone: false }
  const behind = read !== revision
  // the answer before may be that of a page on which the sign was supposed to be gone
  if (!behind && answer?.sign === sign && answer.told) return { told: answer.told, alone: false }
  return { told: readings.ownTold(sign), alone: behind }
}
