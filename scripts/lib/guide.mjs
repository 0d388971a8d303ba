// Pages whose examples run. A block "```figurae NAME" is a file; a block "```console" begins with a command line
// "$ resolutio …", and the rest of it is what the command prints.

const BLOCK = /^```(figurae|console)(?: (\S+))?\n([\s\S]*?)^```$/gm

/**
 * The page with every console block filled anew. `save(name, text)` puts a file where the command will find it;
 * `answer(args)` runs the command line and gives all that it prints.
 */
export async function filled(page, save, answer) {
  let made = ""
  let at = 0
  for (const block of page.matchAll(BLOCK)) {
    const [whole, kind, name, body] = block
    made += page.slice(at, block.index)
    at = block.index + whole.length
    if (kind === "figurae") {
      if (name) save(name, body)
      made += whole
    } else made += `\`\`\`console\n${await answered(body, answer)}\`\`\``
  }
  return made + page.slice(at)
}

async function answered(body, answer) {
  const [command = ""] = body.split("\n")
  const args = [...command.replace(/^\$ (npx )?resolutio /, "").matchAll(/"([^"]*)"|(\S+)/g)].map(
    found => found[1] ?? found[2],
  )
  const printed = (await answer(args)).replace(/[ \t]+$/gm, "").trimEnd()
  return printed === "" ? `${command}\n` : `${command}\n${printed}\n`
}

/** Pictures that a command of the page has written: a command that ends in "-o ticks.svg" for "![…](edition/ticks.svg)". */
export function picturesIn(page) {
  return [...page.matchAll(/!\[[^\]]*\]\(((?:[\w-]+\/)?([\w-]+\.svg))\)/g)]
    .map(([, kept, written]) => ({ kept, written }))
    .filter(({ written }) => new RegExp(`^\\$ resolutio .* -o ${written}\\b`, "m").test(page))
}
