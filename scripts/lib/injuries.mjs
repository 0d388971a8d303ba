// Ways of spoiling a text file, for scripts/fuzz.mjs.

/** One to four injuries; in half of the files only such as leave the tags whole, so that they get past the XML reader. */
export function spoilt(sample, samples, random) {
  let text = sample
  const kinds = random() < 0.5 ? FINE : [...ROUGH, ...FINE]
  const times = 1 + Math.floor(random() * 4)
  for (let i = 0; i < times; i++) text = kinds[Math.floor(random() * kinds.length)](text, random, samples)
  return text
}

const at = (text, random) => Math.floor(random() * (text.length + 1))
const ATTRIBUTE = /[\w.:-]+="[^"]*"/g
const TAG = /<[A-Za-z]+(?:\s[^<>]*)?\/>/g
const ROUGH = [
  // another character
  (text, random) => {
    const i = at(text, random)
    const odd = ["<", ">", "&", '"', "'", "/", "\u0000", "\uFFFF", "\uD800", "9", "-", "é", "{", ";", "\n", "]]>", "#"]
    return text.slice(0, i) + odd[Math.floor(random() * odd.length)] + text.slice(i + 1)
  },
  // a bit of a character
  (text, random) => {
    const i = at(text, random)
    return (
      text.slice(0, i) +
      String.fromCharCode((text.charCodeAt(i) || 32) ^ (1 << Math.floor(random() * 8))) +
      text.slice(i + 1)
    )
  },
  // cut off
  (text, random) => text.slice(0, at(text, random)),
  // a piece taken out
  (text, random) => {
    const i = at(text, random)
    return text.slice(0, i) + text.slice(i + Math.floor(random() * 400))
  },
  // a piece doubled
  (text, random) => {
    const i = at(text, random)
    const piece = text.slice(i, i + Math.floor(random() * 800))
    const j = at(text, random)
    return text.slice(0, j) + piece + text.slice(j)
  },
  // a piece of another file
  (text, random, samples) => {
    const other = samples[Math.floor(random() * samples.length)]
    const i = at(other, random)
    const j = at(text, random)
    return text.slice(0, j) + other.slice(i, i + Math.floor(random() * 400)) + text.slice(j)
  },
]
const FINE = [
  // an element without content taken out, or put somewhere else
  (text, random) => {
    const all = [...text.matchAll(TAG)]
    if (all.length < 2) return text
    const [a, b] = [0, 0].map(() => all[Math.floor(random() * all.length)])
    if (random() < 0.5) return text.slice(0, a.index) + text.slice(a.index + a[0].length)
    return text.slice(0, b.index) + a[0] + text.slice(b.index)
  },
  // the values of two attributes changed over
  (text, random) => {
    const all = [...text.matchAll(ATTRIBUTE)]
    if (all.length < 2) return text
    const [a, b] = [0, 0].map(() => all[Math.floor(random() * all.length)]).sort((x, y) => x.index - y.index)
    if (a === b) return text
    const value = one => one[0].slice(one[0].indexOf("="))
    const name = one => one[0].slice(0, one[0].indexOf("="))
    return (
      text.slice(0, a.index) +
      name(a) +
      value(b) +
      text.slice(a.index + a[0].length, b.index) +
      name(b) +
      value(a) +
      text.slice(b.index + b[0].length)
    )
  },
  // a value of no sense
  (text, random) => {
    const all = [...text.matchAll(ATTRIBUTE)]
    const one = all[Math.floor(random() * all.length)]
    if (!one) return text
    const odd = [
      "",
      "-1",
      "0",
      "99999999999999999999",
      "1e9",
      "NaN",
      "toString",
      "__proto__",
      "constructor",
      "#",
      "x".repeat(5000),
      "1/0",
      "é&amp;",
    ]
    const value = odd[Math.floor(random() * odd.length)]
    return `${text.slice(0, one.index)}${one[0].slice(0, one[0].indexOf("="))}="${value}"${text.slice(one.index + one[0].length)}`
  },
  // another element
  (text, random) => {
    const all = [...text.matchAll(/<(\/?)([A-Za-z]+)/g)]
    if (all.length < 2) return text
    const [a, b] = [0, 0].map(() => all[Math.floor(random() * all.length)][2])
    return random() < 0.5 ? text.replaceAll(new RegExp(`<(/?)${a}\\b`, "g"), `<$1${b}`) : text.replace(`<${a}`, `<${b}`)
  },
]

/** Numbers from 0 to 1 that a seed brings again. */
export function randomFrom(seed) {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let mixed = state
    mixed = Math.imul(mixed ^ (mixed >>> 15), mixed | 1)
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296
  }
}
