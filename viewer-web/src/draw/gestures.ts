/** Pointers on the trace: drag to look back, wheel or two fingers to change the window's length. */

import { isHeld, move, type ViewState, zoomTo } from '../model/view-state';
import type { ViewerModel } from '../model/viewer-model';

const WHEEL_PER_DOUBLING = 400;
const DRAG_STARTS_PX = 4;

export class Gestures {
  private readonly fingers = new Map<number, number>();
  private dragFrom: { x: number; view: ViewState; edgeS: number } | undefined;
  private pinch: { distance: number; windowS: number } | undefined;
  private readonly abort = new AbortController();

  constructor(
    private readonly area: HTMLElement,
    private readonly model: ViewerModel,
    private readonly onClick: (event: PointerEvent) => void,
  ) {
    const { signal } = this.abort;
    area.addEventListener('pointerdown', this.onDown, { signal });
    area.addEventListener('pointermove', this.onMove, { signal });
    area.addEventListener('pointerup', this.onUp, { signal });
    area.addEventListener('pointercancel', this.onUp, { signal });
    area.addEventListener('wheel', this.onWheel, { signal, passive: false });
  }

  destroy(): void {
    this.abort.abort();
  }

  private readonly onDown = (event: PointerEvent): void => {
    if (event.button !== 0) return;
    this.area.setPointerCapture(event.pointerId);
    this.fingers.set(event.pointerId, event.clientX);
    this.begin();
  };

  private readonly onMove = (event: PointerEvent): void => {
    if (!this.fingers.has(event.pointerId)) return;
    this.fingers.set(event.pointerId, event.clientX);
    if (this.pinch) this.onPinch(this.pinch);
    else this.onDrag(event.clientX);
  };

  private readonly onUp = (event: PointerEvent): void => {
    const from = this.dragFrom;
    const still = from !== undefined && Math.abs(event.clientX - from.x) < DRAG_STARTS_PX;
    if (event.type === 'pointerup' && still && this.fingers.size === 1) this.onClick(event);
    if (this.fingers.delete(event.pointerId)) this.begin();
  };

  private readonly onWheel = (event: WheelEvent): void => {
    event.preventDefault();
    const extent = this.model.extent(nowPerfS());
    const view = this.model.view.value;
    if (Math.abs(event.deltaX) > Math.abs(event.deltaY)) {
      this.model.view.value = move(view, (event.deltaX / this.area.clientWidth) * view.windowS, extent);
    } else {
      this.model.view.value = zoomTo(view, view.windowS * 2 ** (event.deltaY / WHEEL_PER_DOUBLING), extent);
    }
  };

  private begin(): void {
    const [first, second] = [...this.fingers.values()];
    this.dragFrom = undefined;
    this.pinch = undefined;
    if (first === undefined) return;
    const view = this.model.view.value;
    if (second !== undefined) this.pinch = { distance: Math.abs(second - first), windowS: view.windowS };
    else this.dragFrom = { x: first, view, edgeS: this.model.edgeS(nowPerfS()) };
  }

  private onDrag(x: number): void {
    const from = this.dragFrom;
    if (from === undefined) return;
    const movedPx = x - from.x;
    if (!isHeld(this.model.view.value) && Math.abs(movedPx) < DRAG_STARTS_PX) return;
    const byS = (-movedPx / this.area.clientWidth) * from.view.windowS;
    const held = { windowS: from.view.windowS, heldEndS: from.edgeS };
    this.model.view.value = move(held, byS, this.model.extent(nowPerfS()));
  }

  private onPinch(pinch: { distance: number; windowS: number }): void {
    const [first, second] = [...this.fingers.values()];
    if (first === undefined || second === undefined || pinch.distance < 1) return;
    const factor = pinch.distance / Math.max(1, Math.abs(second - first));
    this.model.view.value = zoomTo(this.model.view.value, pinch.windowS * factor, this.model.extent(nowPerfS()));
  }
}

function nowPerfS(): number {
  return performance.now() / 1000;
}
