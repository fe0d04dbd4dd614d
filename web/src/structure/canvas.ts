// The canvas: camera, light, turning by pointer and keys. Draws only when something changed.

import { Box3, DirectionalLight, HemisphereLight, PerspectiveCamera, Raycaster, Scene, Vector2, Vector3, WebGLRenderer } from "three";
import { OrbitControls } from "three/examples/jsm/controls/OrbitControls.js";

/** What panels leave free of the canvas, in CSS pixels. */
export interface FreeRect {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

export const stillWanted = (): boolean => matchMedia("(prefers-reduced-motion: reduce)").matches;

export class Canvas {
  readonly scene = new Scene();
  readonly camera = new PerspectiveCamera(32, 1, 0.05, 2000);
  readonly renderer: WebGLRenderer;
  readonly controls: OrbitControls;
  readonly dom: HTMLCanvasElement;
  /** Milliseconds that the last frames took, newest last. */
  readonly frames_ms: number[] = [];
  drawn = 0;
  private asked = 0;
  private running: ((now: number) => boolean)[] = [];
  private after: (() => void)[] = [];
  private free: FreeRect = { left: 0, top: 0, right: 0, bottom: 0 };
  private box = new Box3(new Vector3(-5, -5, 0), new Vector3(5, 5, 2));
  private readonly ray = new Raycaster();
  /** Until someone turns it, the picture stays fitted, whatever comes into it. */
  private own: Vector3 | null = null;

  /** Throws where the browser has no WebGL. */
  constructor(private readonly place: HTMLElement) {
    this.renderer = new WebGLRenderer({ antialias: true, alpha: true, powerPreference: "low-power" });
    this.dom = this.renderer.domElement;
    this.dom.tabIndex = 0;
    this.dom.setAttribute("role", "img");
    place.prepend(this.dom);
    this.camera.up.set(0, 0, 1);
    this.camera.position.set(9, -14, 8);
    this.scene.add(new HemisphereLight(0xffffff, 0xb5aea2, 2.5));
    const sun = new DirectionalLight(0xffffff, 1.9);
    sun.position.set(-3, -6, 9);
    this.scene.add(sun);
    this.controls = new OrbitControls(this.camera, this.dom);
    this.controls.enableDamping = false;
    this.controls.zoomToCursor = true;
    this.controls.minDistance = 0.2;
    this.controls.maxDistance = 400;
    this.controls.addEventListener("change", () => this.ask());
    this.controls.addEventListener("start", () => (this.own = null));
    this.dom.addEventListener("webglcontextrestored", () => this.ask());
    new ResizeObserver(() => this.size()).observe(place);
    this.size();
  }

  ask(): void {
    if (this.asked !== 0) return;
    this.asked = requestAnimationFrame((now) => this.draw(now));
  }
  onDrawn(call: () => void): void {
    this.after.push(call);
  }
  /** Called each frame until it gives false; frames come one after the other meanwhile. */
  run(step: (now: number) => boolean): void {
    this.running.push(step);
    this.ask();
  }
  private draw(now: number): void {
    this.asked = 0;
    this.running = this.running.filter((step) => step(now));
    const before = performance.now();
    this.renderer.render(this.scene, this.camera);
    this.frames_ms.push(performance.now() - before);
    if (this.frames_ms.length > 60) this.frames_ms.shift();
    ++this.drawn;
    for (const call of this.after) call();
    if (this.running.length > 0) this.ask();
  }

  private size(): void {
    const width = Math.max(1, this.place.clientWidth);
    const height = Math.max(1, this.place.clientHeight);
    this.renderer.setPixelRatio(Math.min(2, devicePixelRatio));
    this.renderer.setSize(width, height, false);
    this.camera.aspect = width / height;
    this.shift();
    this.refit();
    this.ask();
  }
  private refit(): void {
    if (this.own !== null) this.fit(this.own);
  }
  /** The middle of what is free becomes the middle of the picture. */
  setFree(free: FreeRect): void {
    this.free = free;
    this.shift();
    this.refit();
    this.ask();
  }
  private shift(): void {
    const { clientWidth: width, clientHeight: height } = this.place;
    const { left, right, top, bottom } = this.free;
    this.camera.setViewOffset(Math.max(1, width), Math.max(1, height), -(left - right) / 2, -(top - bottom) / 2, Math.max(1, width), Math.max(1, height));
    this.camera.updateProjectionMatrix();
  }

  private outline: Float32Array = new Float32Array(0);
  /** `outline`: points, three numbers each, that the picture is fitted to. */
  setBox(box: Box3, outline: Float32Array): void {
    this.box = box.clone();
    this.outline = outline;
    const size = box.getSize(new Vector3()).length();
    this.camera.near = Math.max(0.02, size / 500);
    this.camera.far = size * 30;
    this.camera.updateProjectionMatrix();
    this.refit();
  }
  boxSize(): number {
    return this.box.getSize(new Vector3()).length();
  }
  /** All of it, from where it is looked at now (or from the first view). */
  fit(from?: Vector3): void {
    if (from !== undefined) this.own = from;
    const way = (from ?? this.camera.position.clone().sub(this.controls.target)).clone().normalize();
    const centre = this.middle(way);
    this.moveTo(centre.clone().addScaledVector(way, this.distanceFor(way, centre)), centre, from !== undefined);
  }
  /** Of what is seen from there, not of the box. */
  private middle(way: Vector3): Vector3 {
    const centre = this.box.getCenter(new Vector3());
    const right = new Vector3(0, 0, 1).cross(way).normalize();
    const corner = new Vector3();
    for (const axis of [right, way.clone().cross(right)]) {
      let [least, most] = [Infinity, -Infinity];
      for (let i = 0; i + 2 < this.outline.length; i += 3) {
        const at = corner.fromArray(this.outline, i).sub(centre).dot(axis);
        [least, most] = [Math.min(least, at), Math.max(most, at)];
      }
      if (least <= most) centre.addScaledVector(axis, (least + most) / 2);
    }
    return centre;
  }
  private distanceFor(way: Vector3, centre: Vector3): number {
    const { clientWidth: width, clientHeight: height } = this.place;
    const wide = Math.max(0.2, (width - this.free.left - this.free.right) / Math.max(1, height));
    const high = Math.max(0.2, (height - this.free.top - this.free.bottom) / Math.max(1, height));
    const tan = Math.tan((this.camera.fov * Math.PI) / 360);
    const right = new Vector3(0, 0, 1).cross(way).normalize();
    const up = way.clone().cross(right);
    let most = 0.5;
    const corner = new Vector3();
    for (let i = 0; i + 2 < this.outline.length; i += 3) {
      corner.fromArray(this.outline, i).sub(centre);
      const nearer = corner.dot(way);
      most = Math.max(most, nearer + Math.abs(corner.dot(right)) / (tan * wide), nearer + Math.abs(corner.dot(up)) / (tan * high));
    }
    return most * 1.06;
  }
  flyTo(at: Vector3, away_m: number): void {
    this.own = null;
    const way = this.camera.position.clone().sub(this.controls.target).normalize();
    this.moveTo(at.clone().addScaledVector(way, away_m), at, false);
  }
  private flight = 0;
  private moveTo(position: Vector3, target: Vector3, atOnce: boolean): void {
    const flight = ++this.flight;
    const end = (): void => {
      this.camera.position.copy(position);
      this.controls.target.copy(target);
      this.controls.update();
      this.ask();
    };
    if (atOnce || stillWanted()) return end();
    const from = this.camera.position.clone();
    const fromTarget = this.controls.target.clone();
    let began: number | null = null;
    this.run((now) => {
      began ??= now;
      const t = Math.min(1, (now - began) / 350);
      if (flight !== this.flight) return false;
      if (t >= 1) {
        end(); // there, not a rounding beside it
        return false;
      }
      const eased = t * t * (3 - 2 * t);
      this.camera.position.lerpVectors(from, position, eased);
      this.controls.target.lerpVectors(fromTarget, target, eased);
      this.controls.update();
      return true;
    });
  }
  turn(right: number, up: number): void {
    ++this.flight;
    this.own = null;
    const arm = this.camera.position.clone().sub(this.controls.target);
    const flat = Math.hypot(arm.x, arm.y);
    const around = Math.atan2(arm.y, arm.x) + right;
    const above = Math.max(-1.45, Math.min(1.5, Math.atan2(arm.z, flat) + up));
    const length = arm.length();
    arm.set(Math.cos(around) * Math.cos(above), Math.sin(around) * Math.cos(above), Math.sin(above)).multiplyScalar(length);
    this.camera.position.copy(this.controls.target).add(arm);
    this.controls.update();
    this.ask();
  }
  nearer(factor: number): void {
    this.own = null;
    const arm = this.camera.position.clone().sub(this.controls.target).multiplyScalar(factor);
    this.camera.position.copy(this.controls.target).add(arm);
    this.controls.update();
    this.ask();
  }
  rayAt(event: { clientX: number; clientY: number }): Raycaster {
    const box = this.dom.getBoundingClientRect();
    const at = new Vector2(((event.clientX - box.left) / box.width) * 2 - 1, 1 - ((event.clientY - box.top) / box.height) * 2);
    this.ray.setFromCamera(at, this.camera);
    return this.ray;
  }
}
