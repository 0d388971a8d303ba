/** The shorthand for the editor: its colours, its voices folded, what can stand where one types. */
import { shorthandParser } from "@resolutio/core"
import type { CompletionContext, CompletionResult } from "@codemirror/autocomplete"
import { foldService, HighlightStyle, LRLanguage, LanguageSupport, syntaxHighlighting } from "@codemirror/language"
import { styleTags, tags } from "@lezer/highlight"
import { words } from "../words/index.js"

const parser = shorthandParser.configure({
  props: [
    styleTags({
      Keyword: tags.keyword,
      TitleLine: tags.heading,
      "LevelWord RestWord": tags.typeName,
      NoteWord: tags.name,
      "MensurationWord Dot Tick": tags.operator,
      "Flag/... Stem/... Plica/... Oblique": tags.modifier,
      LyricLine: tags.string,
      "String UnclosedString": tags.string,
      Comment: tags.comment,
      Stray: tags.invalid,
    }),
  ],
})

/** Colours by role: red names, second ink tells beside; form before colour. */
const style = HighlightStyle.define([
  { tag: tags.keyword, color: "var(--red)", fontWeight: "700" },
  { tag: tags.heading, fontWeight: "700" },
  { tag: tags.typeName, fontWeight: "700" },
  { tag: tags.operator, color: "var(--red)" },
  { tag: tags.modifier, color: "var(--second)" },
  { tag: tags.string, fontStyle: "italic" },
  { tag: tags.comment, color: "var(--second)", fontStyle: "italic" },
  { tag: tags.invalid, textDecoration: "underline wavy" },
])

/** A voice folds from its first line to the line before the next statement. */
const foldVoices = foldService.of((state, from, to) => {
  const { doc } = state
  if (!isVoice(doc.sliceString(from, to))) return null
  let last = doc.lineAt(from).number
  while (last < doc.lines && !/^\s*(voice|alternative|decision|shape)\b/.test(doc.line(last + 1).text)) last++
  while (last > 1 && doc.line(last).text.trim() === "") last--
  const end = doc.line(last).to
  return end > to ? { from: to, to: end } : null
})
const isVoice = (line: string): boolean => /^\s*voice\b/.test(line)

/** What can stand at the place, with a word on what it is. */
function complete({ state, pos, explicit }: CompletionContext): CompletionResult | null {
  const line = state.doc.lineAt(pos)
  const typed = /[^\s[\]{}]*$/.exec(line.text.slice(0, pos - line.from))![0]
  if (typed === "" && !explicit) return null
  const isStart = line.text.slice(0, pos - line.from).trim() === typed
  const { completions } = words.writing
  const all = [
    ...completions.signs,
    ...(isStart ? completions.lines : []),
    ...(isVoice(line.text) ? completions.voice : []),
  ]
  return { from: pos - typed.length, options: all.map(([label, detail]) => ({ label, detail })), validFor: /^[^\s]*$/ }
}

export function shorthand(): LanguageSupport {
  const language = LRLanguage.define({
    name: "figurae",
    // the same parser; its types are met once as a module and once not
    parser: parser as never,
    languageData: { commentTokens: { line: "%" } },
  })
  return new LanguageSupport(language, [
    foldVoices,
    syntaxHighlighting(style),
    language.data.of({ autocomplete: complete }),
  ])
}
