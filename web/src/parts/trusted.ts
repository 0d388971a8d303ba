/**
 * The policy forbids to make elements or workers from mere text. What is ours to trust, drawings that the core has written and
 * addresses that the build has made, goes through here and nowhere else.
 */
interface TrustedTypes {
  createPolicy(
    name: string,
    rules: { createHTML: (text: string) => string; createScriptURL: (address: string) => string },
  ): { createHTML(text: string): unknown; createScriptURL(address: string): unknown }
}
const { trustedTypes } = globalThis as { trustedTypes?: TrustedTypes }
const ours = trustedTypes?.createPolicy("resolutio", {
  createHTML: text => text,
  createScriptURL: address => {
    if (new URL(address, location.href).origin !== location.origin) throw new TypeError("not one of our own files")
    return address
  },
})

/** Puts a drawing, written by the core or the engraver, into an element. */
export function showDrawing(element: Element, svg: string): void {
  element.innerHTML = (ours ? ours.createHTML(svg) : svg) as string
}

export const trustedAddress = (address: string): unknown => (ours ? ours.createScriptURL(address) : address)
