import { lazy, Suspense, type ComponentType, type FunctionComponent } from "react"

/**
 * A component that is loaded when it is first shown, so that the window opens sooner. The service worker has it by then. Nothing
 * stands in its place for that moment.
 */
export function later<P extends object>(load: () => Promise<ComponentType<P>>): FunctionComponent<P> {
  const Loaded = lazy(() => load().then(one => ({ default: one as ComponentType<object> }))) as ComponentType<object>
  return function Later(props: P) {
    return (
      <Suspense fallback={null}>
        <Loaded {...props} />
      </Suspense>
    )
  }
}
