/**
 * A scene as SVG: presentation attributes only, no style sheet, no script. Positions of groups are reckoned in, so that every
 * number in the file is in px. The same scene gives the same text.
 */
import { textWidth } from "../text/width.js"
import type { Group, Item, Mark, Path, Role, Scene, Stroking, TextMark } from "./scene.js"
import { LIGHT_THEME, type Theme } from "./themes.js"

export interface SvgOptions {
  readonly theme?: Theme
  /** Put before every id, so that several drawings can stand in one page. */
  readonly idPrefix?: string
  /** Width at which it is to be shown; the drawing's own without it. The numbers inside stay. */
  readonly shownWidth?: number
  /** The outline of a text in its own units, starting at 0, 0, when letters are to be drawn without their font. */
  readonly outline?: (text: TextMark) => Path | undefined
}

/** Names after which a renderer looks, best first. */
export const FONT_FAMILIES = {
  words: "Alegreya, 'EB Garamond', Georgia, serif",
  figures: "'Source Sans 3', 'Noto Sans', Arial, sans-serif",
} as const

/** One SVG document, ending with a line break. */
export function toSvg(scene: Scene, options: SvgOptions = {}): string {
  return new SvgWriter(options).document(scene)
}

/** Where the items' own 0, 0 stands, and how many px their unit is. */
export interface Placing {
  readonly x?: number
  readonly y?: number
  readonly scale?: number
}

/**
 * Items alone, without a document around them: for putting into a picture that is shown, so that only what changed is written
 * anew. A sign's id is data only, since there may be others in the page.
 */
export function svgOf(
  items: readonly Item[],
  { x = 0, y = 0, scale = 1 }: Placing = {},
  options: SvgOptions = {},
): string {
  return new SvgWriter(options, true).fragment(items, { x, y, scale })
}

interface Place {
  readonly x: number
  readonly y: number
  readonly scale: number
}

class SvgWriter {
  readonly #theme: Theme
  readonly #prefix: string
  readonly #outline: SvgOptions["outline"]
  readonly #shownWidth: number | undefined
  readonly #seen = new Set<string>()
  readonly #lines: string[] = []

  readonly #idless: boolean

  constructor({ theme = LIGHT_THEME, idPrefix = "", outline, shownWidth }: SvgOptions, idless = false) {
    this.#idless = idless
    this.#theme = theme
    this.#prefix = idPrefix
    this.#outline = outline
    this.#shownWidth = shownWidth
  }

  fragment(items: readonly Item[], place: Place): string {
    for (const item of items) this.#item(item, place)
    return this.#lines.join("\n")
  }

  document({ width, height, title, description, language, content }: Scene): string {
    const [t, d] = [this.#ownId("title"), this.#ownId("description")]
    const [w, h] = [number(width), number(height)]
    const shown = (this.#shownWidth ?? width) / width
    const size = `width="${number(width * shown)}" height="${number(height * shown)}"`
    const spoken = language === undefined ? "" : ` lang="${escape(language)}"`
    this.#lines.push(
      `<svg xmlns="http://www.w3.org/2000/svg" ${size} viewBox="0 0 ${w} ${h}" role="img" aria-labelledby="${t} ${d}"${spoken}>`,
      `<title id="${t}">${escape(title)}</title>`,
      `<desc id="${d}">${escape(description)}</desc>`,
    )
    if (this.#theme.painted)
      this.#lines.push(`<rect class="ground" width="${w}" height="${h}" fill="${this.#theme.colours.ground}"/>`)
    for (const item of content) this.#item(item, { x: 0, y: 0, scale: 1 })
    this.#lines.push("</svg>\n")
    return this.#lines.join("\n")
  }

  #item(item: Item, place: Place): void {
    if (item.shape === "group") this.#group(item, place)
    else this.#mark(item, place)
  }

  #group(group: Group, { x, y, scale }: Place): void {
    const inner = {
      x: x + (group.x ?? 0) * scale,
      y: y + (group.y ?? 0) * scale,
      scale: scale * (group.scale ?? 1),
    }
    const data = Object.entries(group.data ?? {}).map(([key, value]) => ` data-${escape(key)}="${escape(value)}"`)
    const attributes = className(group.part) + this.#signed(group.sign) + data.join("")
    if (attributes !== "") this.#lines.push(`<g${attributes}>`)
    for (const item of group.content) this.#item(item, inner)
    if (attributes !== "") this.#lines.push("</g>")
  }

  #mark(mark: Mark, place: Place): void {
    const paint = this.#paint(mark, place.scale)
    if (paint === undefined) return
    const attributes = className(mark.part) + this.#signed(mark.sign)
    this.#lines.push(
      mark.shape === "text" ? this.#text(mark, place, attributes + paint) : drawn(mark, place, attributes + paint),
    )
  }

  /** Fill and stroke as attributes; undefined when nothing of the mark is to be seen. */
  #paint({ shape, fill, stroke, opacity }: Mark, scale: number): string | undefined {
    const filled = this.#colour(fill)
    const stroked = stroke && this.#colour(stroke.role)
    if (filled === undefined && stroked === undefined) return undefined
    const inside = filled ?? (shape === "line" ? undefined : "none")
    return (
      (inside === undefined ? "" : ` fill="${inside}"`) +
      (stroke && stroked !== undefined ? strokeAttributes(stroke, stroked, scale) : "") +
      (opacity === undefined ? "" : ` opacity="${number(opacity)}"`)
    )
  }

  #colour(role: Role | undefined): string | undefined {
    if (role === undefined || (role === "ground" && !this.#theme.painted)) return undefined
    return this.#theme.colours[role]
  }

  #text(mark: TextMark, place: Place, attributes: string): string {
    const outline = this.#outline?.(mark)
    if (outline) return outlined(mark, outline, place, attributes)
    const { text, type, anchor = "start" } = mark
    const spoken = [...text].length > 2 ? textLengthOf(mark, place.scale) : ""
    return (
      `<text x="${number(place.x + mark.x * place.scale)}" y="${number(place.y + mark.y * place.scale)}"` +
      ` font-family="${FONT_FAMILIES[type.family]}" font-size="${number(type.size * place.scale)}"` +
      (type.weight === undefined || type.weight === 400 ? "" : ` font-weight="${type.weight}"`) +
      (type.italic ? ` font-style="italic"` : "") +
      (anchor === "start" ? "" : ` text-anchor="${anchor}"`) +
      `${spoken}${attributes}>${escape(text)}</text>`
    )
  }

  #signed(sign: string | undefined): string {
    if (sign === undefined) return ""
    const data = ` data-sign="${escape(sign)}"`
    return this.#idless || this.#seen.has(sign) || !FITS_AS_ID.test(sign) ? data : ` id="${this.#ownId(sign)}"${data}`
  }

  #ownId(name: string): string {
    this.#seen.add(name)
    return escape(this.#prefix + name)
  }
}

/** Ids that stand as they are in every reader; others are data only. */
const FITS_AS_ID = /^[\p{L}\p{N}_][\p{L}\p{N}._:-]*$/u
const className = (part: string | undefined): string => (part === undefined ? "" : ` class="${escape(part)}"`)

function strokeAttributes({ width, dash, cap, join }: Stroking, colour: string, scale: number): string {
  return (
    ` stroke="${colour}" stroke-width="${number(width * scale)}"` +
    (dash ? ` stroke-dasharray="${dash.map(one => number(one * scale)).join(" ")}"` : "") +
    (cap ? ` stroke-linecap="${cap}"` : "") +
    (join ? ` stroke-linejoin="${join}"` : "")
  )
}

function drawn(mark: Exclude<Mark, TextMark>, { x, y, scale }: Place, attributes: string): string {
  const at = (value: number) => number(x + value * scale)
  const down = (value: number) => number(y + value * scale)
  const long = (value: number) => number(value * scale)
  switch (mark.shape) {
    case "path":
      return `<path${attributes} d="${pathData(mark.path, x, y, scale)}"/>`
    case "line":
      return `<line${attributes} x1="${at(mark.x1)}" y1="${down(mark.y1)}" x2="${at(mark.x2)}" y2="${down(mark.y2)}"/>`
    case "rect":
      return `<rect${attributes} x="${at(mark.x)}" y="${down(mark.y)}" width="${long(mark.width)}" height="${long(mark.height)}"/>`
    case "circle":
      return `<circle${attributes} cx="${at(mark.x)}" cy="${down(mark.y)}" r="${long(mark.radius)}"/>`
    case "polygon": {
      const points = mark.points.map(([px, py]) => `${at(px)},${down(py)}`).join(" ")
      return `<${mark.open ? "polyline" : "polygon"}${attributes} points="${points}"/>`
    }
  }
}

/** "M1,2L3,4Z": an outline moved and scaled. */
export function pathData(path: Path, x = 0, y = 0, scale = 1): string {
  let data = ""
  for (const step of path) {
    data += step[0]
    for (let i = 1; i < step.length; i += 2) {
      if (i > 1) data += " "
      data += `${number(x + (step[i] as number) * scale)},${number(y + (step[i + 1] as number) * scale)}`
    }
  }
  return data
}

function textLengthOf(mark: TextMark, scale: number): string {
  const length = mark.length ?? textWidth(mark.text, mark.type)
  return ` textLength="${number(length * scale)}" lengthAdjust="spacingAndGlyphs"`
}

function outlined(mark: TextMark, outline: Path, { x, y, scale }: Place, attributes: string): string {
  const width = mark.length ?? textWidth(mark.text, mark.type)
  const back = { start: 0, middle: width / 2, end: width }[mark.anchor ?? "start"]
  const data = pathData(outline, x + (mark.x - back) * scale, y + mark.y * scale, scale)
  return `<path${attributes} role="img" aria-label="${escape(mark.text)}" d="${data}"/>`
}

/** At most two decimals, as short as it can be written. Whole numbers become text much faster than others do. */
function number(value: number): string {
  const hundredths = Math.round(value * 100)
  const rest = Math.abs(hundredths % 100)
  if (rest === 0) return String(hundredths / 100 + 0)
  const whole = (Math.abs(hundredths) - rest) / 100
  const decimals = rest % 10 === 0 ? rest / 10 : rest < 10 ? `0${rest}` : rest
  return `${hundredths < 0 ? "-" : ""}${whole}.${decimals}`
}

const ESCAPES: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" }
/** Text for XML; characters that XML 1.0 forbids become the replacement character. */
function escape(text: string): string {
  if (PLAIN.test(text)) return text
  return text.replace(FORBIDDEN, "\uFFFD").replace(/[&<>"]/g, one => ESCAPES[one]!)
}
const PLAIN = /^[\w .,;:'()-]*$/
// oxlint-disable-next-line no-control-regex
const FORBIDDEN =
  /[\u0000-\u0008\u000B\u000C\u000E-\u001F\uFFFE\uFFFF]|[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/g
