/**
 * What the page may do, as a policy in the page itself, since it is to work from any file server: its own scripts, styles,
 * fonts and workers; pictures of its own making; no connection to anywhere else.
 */
import type { Plugin } from "vite"

export const POLICY: Readonly<Record<string, string>> = {
  "default-src": "'none'",
  // the engraver and the synthesizer are WebAssembly
  "script-src": "'self' 'wasm-unsafe-eval'",
  "style-src": "'self'",
  "font-src": "'self'",
  "img-src": "'self' blob: data:",
  "media-src": "'self' blob:",
  "connect-src": "'self'",
  "worker-src": "'self'",
  "manifest-src": "'self'",
  "base-uri": "'none'",
  "form-action": "'none'",
  "object-src": "'none'",
  "require-trusted-types-for": "'script'",
  "trusted-types": "resolutio",
}

export function policy(): Plugin {
  return {
    name: "resolutio-policy",
    apply: "build",
    transformIndexHtml() {
      const content = Object.entries(POLICY)
        .map(([name, value]) => `${name} ${value}`)
        .join("; ")
      return [{ tag: "meta", attrs: { "http-equiv": "Content-Security-Policy", content }, injectTo: "head-prepend" }]
    },
  }
}
