/** Drawings as data, and as SVG. */
export * from "./scene/scene.js"
export { LIGHT_THEME, THEMES, themeNamed, type Theme } from "./scene/themes.js"
export { FONT_FAMILIES, pathData, toSvg, type SvgOptions } from "./scene/svg.js"
export { ASCENT, DESCENT, X_HEIGHT, textWidth } from "./text/width.js"
export {
  USUAL_CLEF,
  accidentalBefore,
  accidentalPath,
  accidentalWidth,
  around,
  clefFor,
  drawClef,
  drawCustos,
  drawDot,
  drawLigature,
  drawMensuration,
  drawNote,
  drawPageMark,
  drawProportion,
  drawRest,
  drawSign,
  drawSignature,
  drawStroke,
  editorial,
  fermataMarks,
  ligatureItem,
  markBox,
  moved,
  notePosition,
  positionOf,
  styleOf,
  yOf,
  type ClefPlace,
  type Drawn,
  type DrawnLigature,
  type DrawnSign,
  type SignPlace,
  type SignStyle,
} from "./signs/index.js"
export { drawPage, drawSheets, layPage, undrawnIn, type LaidPage, type PageOptions } from "./page/index.js"
export { drawTime, drawTimeSheets, type TimeInput, type TimeOptions } from "./time/index.js"
