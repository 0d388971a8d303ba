/**
 * The text and the page, one document: what is typed becomes the smallest change of the page, and a change made elsewhere the
 * smallest change of the text. While a place cannot be read the page waits, and the text as it stands is kept beside the piece.
 */
import { parseShorthand, writing, type Page, type Problem } from "@resolutio/core"
import { autocompletion, closeBrackets, completionKeymap } from "@codemirror/autocomplete"
import { defaultKeymap, indentWithTab } from "@codemirror/commands"
import { codeFolding, foldGutter, foldKeymap } from "@codemirror/language"
import { setDiagnostics, type Diagnostic } from "@codemirror/lint"
import { Annotation, EditorState } from "@codemirror/state"
import { drawSelection, EditorView, highlightActiveLine, keymap, lineNumbers } from "@codemirror/view"
import type { Documents } from "../document/documents.js"
import { words } from "../words/index.js"
import { draftOf, keepDraft } from "./drafts.js"
import { askedWord, Following } from "./following.js"
import { shorthand } from "./language.js"
import { look } from "./look.js"
import { changeBetween } from "./text-change.js"

const fromPage = Annotation.define<boolean>()
/** So long a pause ends a step that can be taken back, in ms. */
const PAUSE = 1200

/** Puts the editor into the element; gives back how it is ended. `faults` is told how many places cannot be read. */
export function openText(parent: HTMLElement, documents: Documents, faults: (count: number) => void): () => void {
  const { record, page } = documents.store.getState()
  const session = new Session(documents, faults)
  // in a shadow the editor's style sheets are allowed by the policy: they are objects there, not text put into the page
  const root = parent.shadowRoot ?? parent.attachShadow({ mode: "open" })
  const inside = root.appendChild(document.createElement("div"))
  inside.style.height = "100%"
  const view = new EditorView({
    parent: inside,
    root,
    state: EditorState.create({
      doc: draftOf(record?.id) ?? writing.writingText(page),
      extensions: extensions(session),
    }),
  })
  session.begin(view)
  return () => {
    session.end()
    view.destroy()
    inside.remove()
  }
}

const extensions = (session: Session) => [
  lineNumbers(),
  foldGutter(),
  codeFolding(),
  drawSelection(),
  highlightActiveLine(),
  closeBrackets(),
  autocompletion({ activateOnTyping: false }),
  EditorView.lineWrapping,
  look,
  EditorView.contentAttributes.of({ "aria-label": words.writing.textLabel, spellcheck: "false", tabindex: "0" }),
  // Undo is the piece's own, so that both ways of writing have one; Escape leaves the text
  keymap.of([
    { key: "Mod-z", preventDefault: true, run: () => session.undo() },
    { key: "Mod-y", mac: "Mod-Shift-z", preventDefault: true, run: () => session.redo() },
    { key: "Mod-Shift-z", preventDefault: true, run: () => session.redo() },
    ...completionKeymap,
    ...foldKeymap,
    ...defaultKeymap,
    indentWithTab,
  ]),
  shorthand(),
  askedWord,
  EditorView.domEventHandlers({
    mousedown: () => session.following?.pointed(),
    focus: () => session.following?.focused(),
  }),
  EditorView.updateListener.of(update => {
    if (update.transactions.some(one => one.annotation(fromPage))) return
    if (update.docChanged) session.typed()
    if ((update.docChanged || update.selectionSet) && update.view.hasFocus) session.following?.moved()
  }),
]

class Session {
  #view: EditorView | undefined
  following: Following | undefined
  #stop = (): void => {}
  #gesture = 0
  #last = 0
  /** The page that the text says. */
  #said: Page | undefined

  constructor(
    private readonly documents: Documents,
    private readonly faults: (count: number) => void,
  ) {}

  begin(view: EditorView): void {
    this.#view = view
    this.#said = this.documents.store.getState().page
    this.#stop = this.documents.store.subscribe(({ page, record }, before) => {
      if (page !== before.page && page !== this.#said) this.#follow(page, record?.id === before.record?.id)
    })
    this.following = new Following(this.documents, view)
    this.typed()
  }

  end(): void {
    this.following?.end()
    this.#stop()
  }

  /** The text has changed: so does the page, where all of it can be read. */
  typed(): void {
    const { record, page } = this.documents.store.getState()
    const text = this.#text
    const read = parseShorthand(text)
    const faulty = read.problems.filter(({ severity }) => severity === "error")
    this.#show(read.problems)
    this.faults(faulty.length)
    keepDraft(record?.id, faulty.length > 0 ? text : undefined)
    this.following?.read(read.ok && faulty.length === 0 ? read.value : undefined)
    if (!read.ok || faulty.length > 0) return
    const change = writing.changeTo(page, read.value)
    if (!change) return
    const now = Date.now()
    if (now - this.#last > PAUSE) this.#gesture++
    this.#last = now
    // the store tells of the new page before this returns: it is the one that the text says
    this.#said = undefined
    this.#own = true
    this.documents.act(change, words.writing.typed, `typing ${this.#gesture}`)
    this.#own = false
    this.#said = this.documents.store.getState().page
  }
  #own = false

  undo(): boolean {
    this.#last = 0
    this.documents.undo()
    return true
  }
  redo(): boolean {
    this.documents.redo()
    return true
  }

  get #text(): string {
    return this.#view!.state.doc.toString()
  }

  /** The page was changed elsewhere. */
  #follow(page: Page, isSamePiece: boolean): void {
    if (this.#own) return
    const known = this.#said
    this.#said = page
    // what is kept was read again, and says the same
    if (isSamePiece && known && writing.changeTo(known, page) === undefined) return
    const view = this.#view!
    const read = isSamePiece ? parseShorthand(this.#text) : undefined
    if (read?.ok && writing.changeTo(page, read.value) === undefined) return
    const changes = changeBetween(this.#text, writing.writingText(page))
    view.dispatch({ changes, annotations: fromPage.of(true) })
    this.#show([])
    this.faults(0)
    keepDraft(this.documents.store.getState().record?.id, undefined)
  }

  #show(problems: readonly Problem[]): void {
    const { state } = this.#view!
    const found = problems.flatMap(({ what, mend, where, severity }): Diagnostic[] => {
      if (where?.line === undefined || where.line > state.doc.lines) return []
      const line = state.doc.line(where.line)
      const from = Math.min(line.to, line.from + (where.column ?? 1) - 1)
      const word = /^\S*/.exec(state.doc.sliceString(from, line.to))![0]
      return [
        {
          from,
          to: Math.max(from, from + word.length),
          severity: severity === "error" ? "error" : "warning",
          message: `${what} ${mend}`,
        },
      ]
    })
    this.#view!.dispatch(setDiagnostics(state, found))
  }
}
