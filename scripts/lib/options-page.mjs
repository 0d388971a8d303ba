// docs/options.md, made from the practices themselves, so that the page cannot say anything else than the code.

const MARKS = { read: "", memory: " (from memory)", inference: " (inference)" }

/** The whole page as Markdown; `practices`, the meanings of the rule ids and what is told of a value as the core has them. */
export function optionsPage(practices, meanings, valueTold) {
  const told = practices.map(practice => onePractice(practice, meanings))
  const parts = ["# Practices, their options and rules", HEAD, ...told, valuesTable(practices, valueTold)]
  return `${parts.join("\n\n")}\n`
}

/** What practices share stands once. */
function valuesTable(practices, valueTold) {
  const options = new Map(practices.flatMap(({ options: own }) => own.map(one => [one.name, new Set()])))
  for (const { options: own } of practices)
    for (const { name, values } of own) for (const value of values) options.get(name).add(value)
  const rows = [...options].flatMap(([name, values]) =>
    [...values].map(value => {
      const { meaning, source } = valueTold(name, value)
      return `| \`${name}\` | \`${value}\` | ${cell(meaning)} | ${cell(source)} |`
    }),
  )
  return `## What each value means\n\n| option | value | what it means | who says so |\n|---|---|---|---|\n${rows.join("\n")}`
}

const HEAD = `<!-- Made by node scripts/docs.mjs from the code; change it there. -->

A practice is chosen by \`--practice NAME\`, or by the file; an option by \`--practice NAME:option=value,option=value\`. The value in **bold** is taken when nothing is said.

A source that was not read in the treatise itself says so: *from memory* is general knowledge of the handbooks, *inference* is what a program needs and the treatises leave unsaid.`

function onePractice({ name, title, unit, options, rules }, meanings) {
  return [
    `## \`${name}\`: ${title}`,
    `Durations are counted in ${unit === "tempus" ? "tempora (one ordinary breve)" : "minims"}.`,
    "| option | values | what it decides | who says so |\n|---|---|---|---|\n" + options.map(optionRow).join("\n"),
    "| rule | what it says of a sign | source |\n|---|---|---|\n" +
      rules.map(rule => ruleRow(rule, meanings)).join("\n"),
  ].join("\n\n")
}

function optionRow({ name, values, default: usual, meaning, source }) {
  const choices = [usual, ...values.filter(value => value !== usual)]
  const shown = choices.map((value, at) => (at === 0 ? `**\`${value}\`**` : `\`${value}\``)).join(" ")
  return `| \`${name}\` | ${shown} | ${cell(meaning)} | ${cell(source)} |`
}

function ruleRow({ id, sources }, meanings) {
  const told = sources.map(
    ({ treatise, place, mark }) => `${[treatise, place].filter(Boolean).join(", ")}${MARKS[mark] ?? ""}`,
  )
  return `| \`${id}\` | ${cell(meanings[id])} | ${cell(told.join("; "))} |`
}

function cell(text) {
  return text.replaceAll("|", "\\|").replaceAll("\n", " ")
}
