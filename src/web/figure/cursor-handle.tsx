import { spoken } from "../words/number.ts";

/** What the keyboard holds of a line in a figure: arrow keys move it, its reading is spoken. */
export function CursorHandle(props: {
  readonly label: string;
  readonly from: number;
  readonly to: number;
  readonly at: number | null;
  readonly text: string;
  readonly onMove: (x: number) => void;
}) {
  const span = () => props.to - props.from;
  const keys: Record<string, number> = {
    ArrowLeft: -1,
    ArrowRight: 1,
    ArrowDown: -1,
    ArrowUp: 1,
    PageDown: -10,
    PageUp: 10,
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    const now = props.at ?? props.from + span() / 2;
    const step = keys[event.key];
    let next: number;
    if (step !== undefined)
      next = now + step * span() * (event.altKey ? 1 / 4000 : event.shiftKey ? 1 / 40 : 1 / 400);
    else if (event.key === "Home") next = props.from;
    else if (event.key === "End") next = props.to;
    else return;
    event.preventDefault();
    props.onMove(Math.min(props.to, Math.max(props.from, next)));
  };
  return (
    <div
      class="cursor-handle"
      role="slider"
      tabIndex={0}
      aria-label={props.label}
      aria-valuemin={0}
      aria-valuemax={1000}
      aria-valuenow={props.at === null ? 500 : Math.round((1000 * (props.at - props.from)) / span())}
      aria-valuetext={spoken(props.text)}
      onKeyDown={onKeyDown}
    />
  );
}
