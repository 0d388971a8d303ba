// How the time to read voices together grows with the notes, and with those among them that a voice by itself leaves open.
import { busyFor } from "./busy.mjs"

/** Rounds of which the quickest counts: at least so many, and more as long as all of them took less than so many ms. */
const ROUNDS = 3
const LONG_ENOUGH = 1500

/** Tells of pieces in one size after the other; `readPage` and `readTogether` are the project's, the rest is how it is told. */
export function growthOf({ readPage, readTogether }, { line, grouped, sizeOf }) {
  const by = (now, then) => `${(now / then).toFixed(1)} ×`
  return sizes => {
    let before
    for (const { name, pages } of sizes) {
      const size = total(pages, sizeOf)
      const open = total(pages, page => openIn(readPage(page)))
      const time = quickest(() => pages.forEach(page => readTogether(page)))
      const told = before
        ? `   ${by(size, before.size)} the notes, ${by(open, before.open)} the open ones, ${by(time, before.time)} the time`
        : ""
      line("", `${time.toFixed(0)} ms`, `3 pieces in ${name}, ${grouped(size)} notes, processor time${told}`)
      before = { size, open, time }
    }
  }
}

function quickest(act) {
  const rounds = []
  for (let all = 0; rounds.length < ROUNDS || all < LONG_ENOUGH; all += rounds.at(-1)) rounds.push(busyFor(act))
  return Math.min(...rounds)
}

const total = (pages, count) => pages.reduce((sum, page) => sum + count(page), 0)

/** Notes and rests in doubt. */
function openIn(readings) {
  return total(readings, ({ signs }) => signs.filter(one => one.number > 0 && one.doubt > 0.05).length)
}
