/**
 * Runs something once what was changed has been shown. Asking then where things stand costs nothing; asking before would make the
 * browser lay everything out in the middle of a key press. Gives a way to call it off.
 */
export function afterPaint(run: () => void): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined
  const frame = requestAnimationFrame(() => {
    timer = setTimeout(run)
  })
  return () => {
    cancelAnimationFrame(frame)
    clearTimeout(timer)
  }
}

/** Where nothing is painted (a window out of sight, a test) it does not wait for that: so many ms. */
const UNSEEN = 60

/** Settles once what was changed has been shown, or soon after where nothing is. */
export function soonAfterPaint(): Promise<void> {
  if (typeof requestAnimationFrame === "undefined") return Promise.resolve()
  return new Promise(done => {
    const timer = setTimeout(done, UNSEEN)
    requestAnimationFrame(() => {
      setTimeout(() => {
        clearTimeout(timer)
        done()
      })
    })
  })
}
