/** What marks are written with: where their 0, 0 stands at the moment, and what is told of each: class, sign, fill, stroke. */
import type { Mark, Role, Stroking } from "./scene.js"
import { AS } from "./svg-bytes.js"
import type { SvgOptions } from "./svg-options.js"
import { stylesOf, type SvgStyles } from "./svg-styles.js"
import { TextBuffer } from "./text-buffer.js"
import { LIGHT_THEME, type Theme } from "./themes.js"
import { escape, fitsAsId } from "./words.js"

export class SvgPen {
  readonly out = new TextBuffer()
  readonly theme: Theme
  readonly styles: SvgStyles
  readonly outline: SvgOptions["outline"]
  /** Handed on to every mark these would be boxed anew each time. */
  x = 0
  y = 0
  scale = 1
  readonly #prefix: string
  readonly #idless: boolean
  readonly #seen = new Set<string>()

  constructor({ theme = LIGHT_THEME, idPrefix = "", outline }: SvgOptions, idless: boolean) {
    this.theme = theme
    this.styles = stylesOf(theme)
    this.outline = outline
    this.#prefix = idPrefix
    this.#idless = idless
  }

  /** Class, sign, fill and stroke. */
  attributes(
    part: string,
    shape: Mark["shape"],
    sign: string | undefined,
    fill: Role | undefined,
    stroke: Stroking | undefined,
    opacity: number | undefined,
  ): void {
    const styled = this.styles.styled(part, shape, fill, stroke, opacity, this.scale)
    if (sign === undefined) return this.out.bytes(styled.whole)
    this.out.bytes(this.styles.classOf(part))
    this.signed(sign)
    this.out.bytes(styled.paint)
  }

  signed(sign: string): void {
    const { out } = this
    if (!this.#idless && !this.#seen.has(sign) && fitsAsId(sign)) {
      this.#seen.add(sign)
      out.bytes(AS.id)
      if (this.#prefix !== "") out.value(this.#prefix)
      out.value(sign)
      out.bytes(AS.quote)
    }
    out.bytes(AS.sign)
    out.value(sign)
    out.bytes(AS.quote)
  }

  data(data: Readonly<Record<string, string>>): void {
    for (const key in data) {
      this.out.bytes(this.styles.dataName(key))
      this.out.value(data[key]!)
      this.out.bytes(AS.quote)
    }
  }

  /** An id of our own, as the value of an attribute. */
  ownId(name: string): string {
    this.#seen.add(name)
    return escape(this.#prefix + name)
  }

  /** A value from a file or a user. */
  attribute(name: string, value: string): void {
    this.out.text(name)
    this.out.text(`="`)
    this.out.value(value)
    this.out.text(`"`)
  }
  /** A value of our own. */
  plain(name: string, value: string): void {
    this.out.text(name)
    this.out.text(`="`)
    this.out.text(value)
    this.out.text(`"`)
  }
  number(name: string, value: number): void {
    this.out.text(name)
    this.out.text(`="`)
    this.out.number(value)
    this.out.text(`"`)
  }
}
