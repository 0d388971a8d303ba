// Changes of mensuration within a piece of which no sign is left: how often they are found, where, and how often falsely.

/** Tempus and prolation one after the other, the modus being imperfect. */
const ONCE = ["3.2 2.3", "2.3 3.2", "2.2 3.2", "3.2 2.2", "2.3 2.2", "2.2 2.3"]
const BACK = ["3.2 2.3 3.2", "2.3 3.2 2.3", "2.2 3.2 2.2", "3.2 2.2 3.2", "2.3 2.2 2.3", "2.2 2.3 2.2"]
const ONWARD = ["3.2 2.3 2.2", "2.3 3.2 2.2", "2.2 3.2 2.3", "3.2 2.2 2.3", "2.3 2.2 3.2", "2.2 2.3 3.2"]
/** The same, the modus minor before them. */
const MODUS = ["2.3.2 3.3.2", "3.2.3 2.2.3", "2.2.2 3.2.2", "3.3.2 2.3.2", "2.2.3 3.2.3", "3.2.2 2.2.2"]
const KINDS = [
  { what: "one voice", kinds: ONCE, who: "second" },
  { what: "all voices", kinds: ONCE, who: "all" },
  { what: "one voice, there and back", kinds: BACK, who: "second" },
  { what: "one voice, on to a third", kinds: ONWARD, who: "second" },
  { what: "all voices, there and back", kinds: BACK, who: "all" },
  { what: "all voices, on to a third", kinds: ONWARD, who: "all" },
  { what: "two voices, apart", kinds: ONCE, who: "apart" },
  { what: "one voice, in modus alone", kinds: MODUS, who: "second" },
  { what: "all voices, in modus alone", kinds: MODUS, who: "all" },
]
const NEAR = 3
const LEVELS = ["modusMinor", "tempus", "prolatio"]
const isSign = sign => sign.kind === "mensuration"
const flat = voice => voice.signs.flatMap(sign => (sign.kind === "ligature" ? sign.members : [sign]))
const unsigned = page => ({
  ...page,
  voices: page.voices.map(voice => ({ ...voice, signs: voice.signs.filter(sign => !isSign(sign)) })),
})
/** Modus maior (imperfect), modus minor (imperfect where it is left out), tempus and prolation. */
const divisionsOf = text => [2, ...[2, ...text.split(".").map(Number)].slice(-3)]
const share = (some, all) => `${((100 * some) / Math.max(1, all)).toFixed(1)} %`

export function measureTurns(made, { pieces, seed, notes, kind = "" }) {
  console.log(
    `\nChanges of mensuration, no sign being left: of so many voices that change, read with all their changes and no other, of these changes within ${NEAR} signs; with some of them; with a wrong one; of those of which not all were found, such as are read right in all notes; of those that do not change, read as if they did; notes right; ms a piece`,
  )
  for (const practice of ["ars-nova", "white"])
    for (const { what, kinds, who } of KINDS.filter(one => one.what.includes(kind))) {
      const count = {
        turning: 0,
        notTold: 0,
        right: 0,
        near: 0,
        places: 0,
        some: 0,
        other: 0,
        staying: 0,
        falsely: 0,
        notes: 0,
      }
      Object.assign(count, { notesRight: 0, ms: 0 })
      for (let i = 0; i < pieces; i++) {
        const divisions = kinds[i % kinds.length].split(" ").map(divisionsOf)
        tally(made, count, made.signChange(seed + i, practice, { divisions, notes: Math.ceil(notes / 2), who }))
      }
      const { turning, right, near, places, some, other, staying, falsely } = count
      console.log(
        `  ${`${practice}, ${what}`.padEnd(38)}${turning}: ${share(right, turning)}, ${share(near, places)}; ${some}; ${other}; ${count.notTold}; ${falsely} of ${staying}; ${share(count.notesRight, count.notes)}; ${(count.ms / pieces).toFixed(0)}`,
      )
    }
  falsely(made, { pieces, seed, notes })
}

function tally({ findMensurations, readTogether }, count, { page, durations }) {
  const bare = unsigned(page)
  const before = performance.now()
  const { voices } = findMensurations(bare)
  count.ms += performance.now() - before
  const wrong = readTogether(bare).readings.map(({ signs }) => notesOf(count, signs, durations))
  voices.forEach(({ changes }, v) => {
    const found = changes.filter(one => one.used)
    const truth = changesOf(page.voices[v])
    if (truth.length === 0) {
      count.staying++
      if (found.length > 0) count.falsely++
      return
    }
    count.turning++
    const before = count.right
    tell(count, found, truth)
    if (count.right === before && wrong[v] === 0) count.notTold++
  })
}

function tell(count, found, truth) {
  if (found.length === 0) return
  const same = found.map(one => truth.find(other => isSame(one, other)))
  if (same.includes(undefined) || new Set(same).size < found.length) count.other++
  else if (found.length < truth.length) count.some++
  else {
    count.right++
    count.places += truth.length
    count.near += found.filter((one, i) => Math.abs(one.place - same[i].place) <= NEAR).length
  }
}

/** Counts the notes of a voice; returns how many are wrong. */
function notesOf(count, signs, durations) {
  const lasting = signs.filter(sign => sign.kind === "note" && !sign.held && durations.has(sign.id))
  const isRight = ({ id, duration }) => durations.get(id).num === duration.num && durations.get(id).den === duration.den
  const right = lasting.filter(isRight).length
  count.notes += lasting.length
  count.notesRight += right
  return lasting.length - right
}

/** To the same mensuration, and not nearer to another change of the voice. */
const isSame = (found, { divisions, place, around: [from, to] }) =>
  LEVELS.every(level => found.divisions[level] === divisions[level]) &&
  found.place > from &&
  found.place < to &&
  place > 0

/** The signs after the first: what they state, before which note or rest they stand, and halfway to the others. */
function changesOf(voice) {
  const signs = flat(voice)
  const number = at => signs.slice(0, at).filter(({ kind }) => kind === "note" || kind === "rest").length + 1
  const later = signs.flatMap((sign, i) => (isSign(sign) ? [{ divisions: sign, place: number(i) }] : [])).slice(1)
  const between = (a, b) => (a === undefined || b === undefined ? undefined : (a.place + b.place) / 2)
  return later.map((one, i) => ({
    ...one,
    around: [between(later[i - 1], one) ?? 0, between(one, later[i + 1]) ?? Infinity],
  }))
}

function falsely({ findMensurations, lawfulPiece }, { pieces, seed, notes }) {
  console.log(
    "Read as if they changed, of voices that do not: whole, and with a note left out in one of them; ms a piece",
  )
  for (const practice of ["ars-nova", "white"])
    for (const mixed of [false, true]) {
      const count = [0, 0]
      let voices = 0
      let ms = 0
      for (let i = 0; i < pieces; i++) {
        const page = unsigned(lawfulPiece(seed + i, { practice, mixed, notes }).page)
        voices += page.voices.length
        const before = performance.now()
        for (const [k, one] of [page, leftOut(page, seed + i)].entries())
          count[k] += findMensurations(one).voices.filter(({ changes }) => changes.some(change => change.used)).length
        ms += performance.now() - before
      }
      console.log(
        `  ${practice}${mixed ? ", mixed" : ""}: ${count[0]} and ${count[1]} of ${voices}; ${(ms / 2 / pieces).toFixed(0)}`,
      )
    }
}

function leftOut(page, seed) {
  const at = seed % page.voices.length
  const voices = page.voices.map((voice, v) => {
    if (v !== at) return voice
    const notes = voice.signs.filter(sign => sign.kind === "note")
    const lost = notes[(7 * seed) % notes.length]
    return { ...voice, signs: voice.signs.filter(sign => sign !== lost) }
  })
  return { ...page, voices }
}
