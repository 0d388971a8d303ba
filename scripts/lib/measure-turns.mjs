// Changes of mensuration within a piece of which no sign is left: how often they are found, where, and how often falsely.

/** Tempus and prolation before and after, the modus being imperfect. */
const PAIRS = ["3.2 2.3", "2.3 3.2", "2.2 3.2", "3.2 2.2", "2.3 2.2", "2.2 2.3"]
const NEAR = 3
const isSign = sign => sign.kind === "mensuration"
const flat = voice => voice.signs.flatMap(sign => (sign.kind === "ligature" ? sign.members : [sign]))
const unsigned = page => ({
  ...page,
  voices: page.voices.map(voice => ({ ...voice, signs: voice.signs.filter(sign => !isSign(sign)) })),
})
const divisionsOf = text => [2, 2, ...text.split(".").map(Number)]
const share = (some, all) => `${((100 * some) / Math.max(1, all)).toFixed(1)} %`

export function measureTurns(made, { pieces, seed, notes }) {
  console.log(
    `\nChanges of mensuration, no sign being left: of so many voices that change, read so with the right mensuration, of these within ${NEAR} signs; with another; of those that do not change, read as if they did; notes right`,
  )
  for (const practice of ["ars-nova", "white"])
    for (const all of [false, true]) {
      const count = { turning: 0, right: 0, near: 0, other: 0, staying: 0, falsely: 0, notes: 0, notesRight: 0 }
      for (let i = 0; i < pieces; i++) {
        const divisions = PAIRS[i % PAIRS.length].split(" ").map(divisionsOf)
        const options = { divisions, notes: Math.ceil(notes / 2), all }
        tally(made, count, made.signChange(seed + i, practice, options), divisions[1])
      }
      const { turning, right, near, other, staying, falsely } = count
      console.log(
        `  ${practice}, ${all ? "all voices" : "one voice "}  ${turning}: ${share(right, turning)}, ${share(near, right)}; ${other}; ${falsely} of ${staying}; ${share(count.notesRight, count.notes)}`,
      )
    }
  falsely(made, { pieces, seed, notes })
}

function tally({ findMensurations, readTogether }, count, { page, durations }, [, , tempus, prolatio]) {
  const bare = unsigned(page)
  findMensurations(bare).voices.forEach(({ changes }, v) => {
    const change = changes.find(one => one.used)
    const place = placeOf(page.voices[v])
    if (place === undefined) {
      count.staying++
      if (change) count.falsely++
      return
    }
    count.turning++
    if (change === undefined) return
    const isRight = change.divisions.tempus === tempus && change.divisions.prolatio === prolatio
    count[isRight ? "right" : "other"]++
    if (isRight && Math.abs(change.place - place) <= NEAR) count.near++
  })
  for (const { signs } of readTogether(bare).readings)
    for (const sign of signs) {
      const lasts = durations.get(sign.id)
      if (lasts === undefined || sign.held || sign.kind !== "note") continue
      count.notes++
      if (lasts.num === sign.duration.num && lasts.den === sign.duration.den) count.notesRight++
    }
}

/** Number of the note or rest before which a second sign stands. */
function placeOf(voice) {
  const signs = flat(voice)
  const at = signs.flatMap((sign, i) => (isSign(sign) ? [i] : []))[1]
  return at && signs.slice(0, at).filter(({ kind }) => kind === "note" || kind === "rest").length + 1
}

function falsely({ findMensurations, lawfulPiece }, { pieces, seed, notes }) {
  console.log("Read as if they changed, of voices that do not: whole, and with a note left out in one of them")
  for (const practice of ["ars-nova", "white"])
    for (const mixed of [false, true]) {
      const count = [0, 0]
      let voices = 0
      for (let i = 0; i < pieces; i++) {
        const page = unsigned(lawfulPiece(seed + i, { practice, mixed, notes }).page)
        voices += page.voices.length
        for (const [k, one] of [page, leftOut(page, seed + i)].entries())
          count[k] += findMensurations(one).voices.filter(({ changes }) => changes.some(change => change.used)).length
      }
      console.log(`  ${practice}${mixed ? ", mixed" : ""}: ${count[0]} and ${count[1]} of ${voices}`)
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
