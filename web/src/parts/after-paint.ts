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
