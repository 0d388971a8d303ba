import { describe, expect, test } from "vitest"
import { optionValueTold } from "./option-values.js"
import { PRACTICES } from "./practices.js"
import { ARS_ANTIQUA_VALUES } from "./values-ars-antiqua.js"
import { MENSURAL_VALUES } from "./values-mensural.js"

const options = PRACTICES.flatMap(practice => practice.options)

describe("values of options", () => {
  test("each means something else than its fellows, and somebody says so", () => {
    for (const { name, values } of options) {
      const told = values.map(value => optionValueTold(name, value))
      expect(
        told.every(one => one && one.meaning !== "" && one.source !== ""),
        name,
      ).toBe(true)
    }
  })

  test("none is told that no practice has", () => {
    const known = new Set(options.flatMap(({ name, values }) => values.map(value => `${name} ${value}`)))
    for (const table of [ARS_ANTIQUA_VALUES, MENSURAL_VALUES])
      for (const [name, values] of Object.entries(table))
        for (const value of Object.keys(values)) expect(known).toContain(`${name} ${value}`)
    expect(optionValueTold("plica", "no such value")).toBeUndefined()
    expect(optionValueTold("no such option", "true")).toBeUndefined()
  })
})
