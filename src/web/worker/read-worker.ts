import { compare } from "../measure/compare.ts";
import { diagnosePhotographs } from "../measure/diagnose.ts";
import { measureFilm } from "../measure/film.ts";
import { glanceAtFrame } from "../camera/glance-frame.ts";
import { foretellWarmUp } from "../camera/warm-up.ts";
import { openMarks, readMarks } from "../measure/read-marks.ts";
import { practise } from "../measure/practice.ts";
import { viewPhotograph } from "../measure/view.ts";
import { readPhotographs } from "../measure/read.ts";
import { serveTasks } from "./serve.ts";

serveTasks({
  read: readPhotographs,
  diagnose: diagnosePhotographs,
  view: viewPhotograph,
  compare,
  marks: readMarks,
  "open-marks": openMarks,
  practice: practise,
  glance: glanceAtFrame,
  "warm-up": foretellWarmUp,
  film: measureFilm,
});
