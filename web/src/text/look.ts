import { EditorView } from "@codemirror/view"

const sans = '"Source Sans 3", "Noto Sans", Arial, sans-serif'

/** The editor in the window's colours and type. */
export const look = EditorView.theme({
  "&": { height: "100%", fontSize: "17px", color: "var(--ink)", backgroundColor: "transparent" },
  ".cm-scroller": { overflow: "auto", fontFamily: sans, lineHeight: "1.5" },
  ".cm-content": { caretColor: "var(--ink)" },
  ".cm-cursor": { borderLeftColor: "var(--ink)", borderLeftWidth: "2px" },
  ".cm-gutters": { backgroundColor: "transparent", color: "var(--second)", border: "none" },
  ".cm-activeLine, .cm-activeLineGutter": { backgroundColor: "color-mix(in srgb, var(--alternate) 60%, transparent)" },
  "&.cm-focused": { outline: "none" },
  "&.cm-focused .cm-scroller": { outline: "3px solid var(--ink)", outlineOffset: "-3px" },
  ".cm-selectionBackground, &.cm-focused .cm-selectionBackground": { backgroundColor: "var(--clay-fill) !important" },
  ".cm-asked": { outline: "2px solid var(--blue)", outlineOffset: "1px" },
  ".cm-lintRange": { backgroundImage: "none !important", textDecoration: "underline wavy 1.5px" },
  ".cm-lintRange-error": { textDecorationStyle: "double" },
  ".cm-tooltip": {
    backgroundColor: "var(--ground)",
    color: "var(--ink)",
    border: "1.5px solid var(--rule)",
    fontFamily: sans,
    padding: "6px 10px",
  },
  ".cm-tooltip-autocomplete ul li[aria-selected]": { backgroundColor: "var(--alternate)", color: "var(--ink)" },
  ".cm-completionDetail": { fontStyle: "normal", color: "var(--second)" },
  ".cm-foldPlaceholder": { backgroundColor: "transparent", border: "1.5px solid var(--rule)", color: "var(--second)" },
})
