/** How far the tokens of a voice are from those of a series, looked up by kind: a voice has a dozen kinds of token. */
import { mismatch, type Mismatch, type Token, type View } from "./views.js"

/** Not compared yet. */
const UNKNOWN = 4

interface Numbered {
  readonly kinds: readonly Token[]
  readonly codes: Int32Array
}
const known = new WeakMap<View, Numbered>()

/** Each token of the view by the number of its kind. */
function kindsIn(view: View): Numbered {
  let numbered = known.get(view)
  if (numbered === undefined) {
    const kinds: Token[] = []
    const codes = Int32Array.from(view.tokens, token => codeIn(kinds, token))
    known.set(view, (numbered = { kinds, codes }))
  }
  return numbered
}

function codeIn(kinds: Token[], token: Token): number {
  const { note, value, detail } = token
  const code = kinds.findIndex(one => one.note === note && one.value === value && one.detail === detail)
  return code < 0 ? kinds.push(token) - 1 : code
}

export class Kinds {
  /** The kind of each token of the view, and of each place of the series. */
  readonly tokens: Int32Array
  readonly wanted: Int32Array
  private readonly kinds: readonly Token[]
  private readonly found: Uint8Array

  constructor(
    private readonly view: View,
    template: { readonly tokens: readonly Token[] },
    private readonly shifts: readonly number[],
  ) {
    const { kinds, codes } = kindsIn(view)
    const all = kinds.slice()
    this.tokens = codes
    // a series that most statements agree on may have values that the voice has not
    this.wanted = Int32Array.from(template.tokens, token => codeIn(all, token))
    this.kinds = all
    this.found = new Uint8Array(all.length * all.length * shifts.length).fill(UNKNOWN)
  }

  /** What `mismatch` says of the two kinds, the first moved by the shift of that number. */
  apart(wanted: number, token: number, shift: number): Mismatch {
    const at = (wanted * this.kinds.length + token) * this.shifts.length + shift
    const found = this.found[at]!
    if (found !== UNKNOWN) return found as Mismatch
    const apart = mismatch(this.view.by, this.kinds[wanted]!, this.kinds[token]!, this.shifts[shift]!)
    this.found[at] = apart
    return apart
  }
}
