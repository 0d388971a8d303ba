// One voice under a wrong sign: how often a reading tells so, by the notes of that voice or because it misses the others.

const isSign = sign => sign.kind === "mensuration"
const [NOTES, MISSES] = ["declared-mensuration-contradicted", "declared-mensuration-misses"]

export function measureSigns({ lawfulPiece, readTogether }, { pieces, seed, notes }) {
  console.log(
    "\nOne voice under a wrong sign: told of so many, by its notes, by the other voices; of another voice; and with right signs, whole and with a note left out, that it misses the others by its sign",
  )
  for (const practice of ["ars-nova-early", "ars-nova", "white"])
    for (const level of practice === "ars-nova-early" ? ["tempus"] : ["tempus", "prolatio"]) {
      const count = { all: 0, told: 0, notes: 0, misses: 0, other: 0, whole: 0, leftOut: 0 }
      for (let i = 0; i < pieces; i++) {
        const { page } = lawfulPiece(seed + i, { practice, notes })
        const codes = one => readTogether(one).readings.map(({ problems }) => problems.map(({ code }) => code))
        tally(count, page, i % page.voices.length, { level, codes, seed: seed + i })
      }
      const { all, told, notes: own, misses, other, whole, leftOut } = count
      const name = `${practice}, ${level}`.padEnd(26)
      console.log(`  ${name}${told} of ${all}, ${own}, ${misses}; ${other}; ${whole} and ${leftOut} of ${all}`)
    }
}

function tally(count, page, at, { level, codes, seed }) {
  const sign = page.voices[at].signs.find(isSign)
  if (sign === undefined || sign.strokes) return
  count.all++
  const found = codes(inVoice(page, at, signs => signs.map(one => (one === sign ? turned(sign, level) : one))))
  if (found[at].includes(NOTES)) count.notes++
  if (found[at].includes(MISSES)) count.misses++
  if (found[at].includes(NOTES) || found[at].includes(MISSES)) count.told++
  if (found.some((own, v) => v !== at && own.includes(MISSES))) count.other++
  const all = page.voices[at].signs.filter(one => one.kind === "note")
  const lost = all[(7 * seed) % all.length]
  const isTold = one => codes(one).flat().includes(MISSES)
  if (isTold(page)) count.whole++
  if (isTold(inVoice(page, at, signs => signs.filter(one => one !== lost)))) count.leftOut++
}

function turned({ sign, dots: _, ...kept }, level) {
  const { tempus, prolatio } = { ...kept, [level]: 5 - kept[level] }
  const drawn = sign && { sign: tempus === 3 ? "O" : "C", ...(prolatio === 3 && { dots: 1 }) }
  return { ...kept, tempus, prolatio, ...drawn }
}

const inVoice = (page, at, change) => ({
  ...page,
  voices: page.voices.map((voice, v) => (v === at ? { ...voice, signs: change(voice.signs) } : voice)),
})
