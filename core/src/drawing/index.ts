/** Drawings as data, and as SVG. */
export * from "./scene/scene.js"
export { LIGHT_THEME, SHOWN_THEME, STYLE_NAMES, THEMES, themeNamed, type Theme } from "./scene/themes.js"
export { pathData } from "./scene/path-data.js"
export { FONT_FAMILIES, svgOf, toSvg, type Placing, type SvgOptions } from "./scene/svg.js"
export { inOurTypefaces, LACKING_BOX, type WrittenScene } from "./text/letters.js"
export { wrapped } from "./text/lines.js"
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
  ellipse,
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
export {
  drawIncipit,
  drawPage,
  drawSheets,
  layPage,
  undrawnIn,
  type Incipit,
  type IncipitOptions,
  type LaidPage,
  type PageOptions,
} from "./page/index.js"
export {
  askedOver,
  drawTime,
  drawTimeSheets,
  layTime,
  layTimeSheets,
  momentAt,
  soundingOver,
  xOfMoment,
  type LaidSystem,
  type LaidTime,
  type LaidTimeSheet,
  type MomentPlace,
  type PlacedMoment,
  type TimeInput,
  type TimeOptions,
} from "./time/index.js"
export {
  cartouchesOver,
  cartouchesRound,
  placesIn,
  signAt,
  signBoxes,
  staffPointAt,
  wedgesOver,
  type LinePlace,
  type ScenePlaces,
  type SignPlaces,
  type StaffPoint,
} from "./places/index.js"
export * from "./time/parts.js"
