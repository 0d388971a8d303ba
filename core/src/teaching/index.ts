export { drawFigure, type Figure, type FigureAsked, type FigurePicture } from "./figures/figure.js"
export { FIGURE_KINDS, figureKind, type FigureKind } from "./figures/kinds.js"
export { FIGURE_SIZES, figureSize, type FigureSize } from "./figures/sizes.js"
export type { PassagePart } from "./figures/passage.js"
export {
  LECTURE_STEPS,
  lectureOf,
  type LectureAxis,
  type LectureRoom,
  type LectureSheet,
  type LectureStep,
} from "./lecture.js"
