import { useEffect, useState } from "react"
import { useReading } from "../app.js"

/** An answer of the reading desk for the page that is shown: asked again when it changes; until then the one before. */
export function useAnswer<T>(
  ask: () => Promise<T>,
  key = "",
): { readonly answer: T | undefined; readonly isOld: boolean } {
  const revision = useReading(state => state.revision)
  const [known, setKnown] = useState<{ readonly of: string; readonly answer: T }>()
  const wanted = `${revision} ${key}`
  useEffect(() => {
    let stale = false
    ask().then(
      answer => !stale && setKnown({ of: wanted, answer }),
      () => undefined,
    )
    return () => {
      stale = true
    }
    // `ask` is made anew at each rendering; what it asks is told by the key
  }, [wanted])
  return { answer: known?.answer, isOld: known?.of !== wanted }
}
