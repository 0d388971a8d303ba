import { expect, test } from "vitest"
import { element, toXml, xmlDocument } from "./xml.js"

test("elements stand on lines of their own, text does not", () => {
  const node = element(
    "a",
    { n: 1, left: undefined },
    element("b", {}, "x ", element("i", {}, "y")),
    undefined,
    element("c"),
  )
  expect(xmlDocument(node)).toBe(
    '<?xml version="1.0" encoding="UTF-8"?>\n<a n="1">\n  <b>x <i>y</i></b>\n  <c/>\n</a>\n',
  )
})
test("nothing in a text can be taken for markup", () => {
  const text = `<&>"' ]]>\n\t\r`
  expect(toXml(element("a", { t: text }, text))).toBe(
    `<a t="&lt;&amp;&gt;&quot;' ]]&gt;&#10;&#9;&#13;">&lt;&amp;&gt;"' ]]&gt;\n\t&#13;</a>`,
  )
})
test("what XML cannot hold is replaced", () => {
  expect(toXml(element("a", {}, "x\u0000y\ud800z\u{1d1ba}"))).toBe("<a>x\ufffdy\ufffdz\u{1d1ba}</a>")
})
