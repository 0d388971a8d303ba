import { expect, test } from "vitest"
import { parseShorthand, printShorthand } from "./index.js"

/** The one voice of the normal form, without its `voice` line. */
function normal(text: string): string {
  const read = parseShorthand(text)
  expect(read.problems).toEqual([])
  if (!read.ok) throw new Error("not read")
  const printed = printShorthand(read.value)
  const again = parseShorthand(printed)
  expect(again.ok && printShorthand(again.value)).toBe(printed)
  return printed.replace(/^title:\n\nvoice 1\n/, "").trimEnd()
}

test.each([
  // typed                                     normal form
  ["B c4 B d4 S S e", "B c4 d S e"],
  ["Bo Bo So", "B o o S o"],
  ["Sf f4 S ff", "Sf f4 S ff"],
  ["B c4. d..", "B c4 . d . ."],
  ["C. B c4", "C.\nB c4"],
  ["C . B c4", "C\n. B c4"],
  ["B c4 [d e] f", "B c4 [d e] f"],
  ["B c4 [L d B e] f", "B c4 [L d B e] f"],
  ["B c4 [B d e ? f] g", "B c4 [B d e ? f] g"],
  ["[a4/down(left)_ f g]", "[a4_/down(left) f g]"],
  ["[c4 d5 e] B f", "[c4 d5 e] B f"],
  ["B c4 rS r r1 d", "B c4 rS r r1 d"],
  ["B c4/u d/d(left) e\\u f\\d2", "B c4/up d/down(left) e\\up f\\down2"],
  ["B c4:red d:red e", "red{B c4 d} e"],
  ["B red{c4 d:none e}", "B c4:red d e:red"],
  ["B red{c4 . r} d", "red{B c4 . r} d"],
  ["B c4 [d:red e]", "B c4 [d:red e]"],
  ["B c4 [d:red e:red]", "B c4 red{[d e]}"],
  ["B red{c4} void{d [e f]}", "B c4:red void{d [e f]}"],
  ["mens:tempus=perfect:prolatio=minor", "mens:tempus=3:prolatio=2"],
  ["mens:maximodus=imperfect:modusminor=3", "mens:modusmaior=2:modus=3"],
  ["clef:C3:within B c4 clef:C4:initial", "clef:C3:within\nB c4 clef:C4:initial"],
  ["B c4 custos:d accid:f:at=b", "B c4 custos:d4 accid:f:at=b4"],
  ['folio:"3v" line:"supplied"', 'folio:3v\nline:"supplied"'],
  ["B c4:id=1.1 d:id=x e:id=1.9 f", "B c4 d:id=x e:id=1.9 f"],
  ['comment:"a remark" %  another', "% a remark\n% another"],
  ["% before all\nB c4", "% before all\nB c4"],
  ["B c4\r\nd\re", "B c4 d e"],
  ['canon:" a\\n  b "', 'canon:"a b"'],
  ['B c4:extra(a=" b  c")', 'B c4:extra(a=" b  c")'],
  ['text:"\\u0001 \\u00e9"', 'text:"\\\\u0001 é"'],
  // lyrics
  ["B c4 d e\n> Ky-ri-e", "B c4 d e\n> Ky- ri- e"],
  ["B c4 d e\n> Ky - ri - e", "B c4 d e\n> Ky- ri- e"],
  ["B c4 d\ne [f g]\n> a b c d", "B c4 d e [f g]\n> a  b c d"],
  ["B c4 d\n> a b\ne\n> c", "B c4 d e\n> a  b c"],
  ["B c4 d\n> a\n> b\n2> c", "B c4 d\n> a  b\n2> c"],
  ["B c4 d e\n> *2 a", "B c4 d e\n> *  * a"],
  ["B c4 d e\n> a~b c+d /e", "B c4 d e\n> a~b c+d /e"],
  ["B c4 d e\n> a~ b c_", "B c4 d e\n> a~ b c_"],
  ['B c4\n> "a-b "_', 'B c4\n> "a-b"_'],
  // A level that no note follows is in force for nothing, so it is not kept.
  ['B [c4 d:syllable("x" stanza=2 join="_" italic)]', '[c4 d:syllable("x" stanza=2 join=_ italic)]'],
])("%j is %j", (typed, expected) => {
  expect(normal(typed)).toBe(expected)
})

test("voices are numbered in order, and lines under them are their own", () => {
  const read = parseShorthand('voice "contra tenor" white\nB c4\nvoice b n=7 id=v\nL d3\nvoice\nS e4')
  if (!read.ok) throw new Error("not read")
  const told = read.value.voices.map(({ n, id, label, signs }) => [n, id, label, signs[0]?.id])
  expect(told).toEqual([
    ["1", "1", "contra tenor", "1.1"],
    ["7", "v", "b", "7.1"],
    ["3", "3", "3", "3.1"],
  ])
})

test.each([
  ["years made=1317", "years made=1317"],
  ["years copied=1350 made=1315-1325", "years made=1315-1325 copied=1350"],
  ["years made=1315-25", "years made=1315-1325"],
  ["years made=1325-1315", "years made=1315-1325"],
  ['years made="c. 1320" copied="14th century"', "years made=1310-1330 copied=1300-1399"],
  ['years copied="1315 – 1325"', "years copied=1315-1325"],
])("%j is %j, under the title", (typed, expected) => {
  const read = parseShorthand(`${typed}\ntitle: A\nB c4`)
  expect(read.problems).toEqual([])
  expect(read.ok && printShorthand(read.value)).toBe(`title: A\n${expected}\n\nvoice 1\nB c4\n`)
})
