import { lazy, Suspense, type ComponentType, type FunctionComponent } from "react"

const all: (() => Promise<unknown>)[] = []

/**
 * A component that is loaded when it is first shown or the window has nothing else to do, so that the window opens sooner.
 * Nothing stands in its place for that moment.
 */
export function later<P extends object>(load: () => Promise<ComponentType<P>>): FunctionComponent<P> {
  all.push(load)
  const Loaded = lazy(() => load().then(one => ({ default: one as ComponentType<object> }))) as ComponentType<object>
  return function Later(props: P) {
    return (
      <Suspense fallback={null}>
        <Loaded {...props} />
      </Suspense>
    )
  }
}

/** Loads what has not been shown yet, one after the other, so that it is there when it is wanted. */
export async function loadRest(): Promise<void> {
  for (const load of all) await load().catch(() => undefined)
}
