// What the scripts in static/js may take for granted beyond the browser's own types.

interface RequestConfig {
  elt: HTMLElement;
  target?: HTMLElement;
  path: string;
  parameters?: Record<string, unknown>;
  formData?: FormData;
}

interface HtmxDetail {
  elt: HTMLElement;
  xhr: XMLHttpRequest;
  requestConfig?: RequestConfig;
  shouldSwap?: boolean;
  serverResponse?: string;
}

interface ConfigDetail {
  elt: HTMLElement;
  parameters: Record<string, unknown>;
  triggeringEvent?: Event;
}

interface HtmxEvents {
  "htmx:configRequest": CustomEvent<ConfigDetail>;
  "htmx:load": CustomEvent<HtmxDetail>;
  "htmx:beforeRequest": CustomEvent<HtmxDetail>;
  "htmx:afterRequest": CustomEvent<HtmxDetail>;
  "htmx:beforeOnLoad": CustomEvent<HtmxDetail & { requestConfig: RequestConfig }>;
  "htmx:beforeSwap": CustomEvent<HtmxDetail & { requestConfig: RequestConfig }>;
  "htmx:afterSwap": CustomEvent<HtmxDetail>;
  "htmx:afterSettle": CustomEvent<HtmxDetail>;
  "htmx:sendError": CustomEvent<HtmxDetail>;
  "htmx:timeout": CustomEvent<HtmxDetail>;
  "htmx:responseError": CustomEvent<HtmxDetail>;
}

interface DocumentEventMap extends HtmxEvents {
  noteLeft: CustomEvent;
  "lines:chosen": CustomEvent;
  "note:go": CustomEvent<{ id: string; from?: HTMLElement }>;
  "kept:back": CustomEvent;
  "kept:sent": CustomEvent<{ name: string; html: string; target?: string }>;
}

interface HTMLElementEventMap extends HtmxEvents {}

declare const htmx: {
  ajax(verb: string, path: string, context: { target: HTMLElement; swap: string }): Promise<void>;
  trigger(element: HTMLElement, event: string): void;
  process(element: HTMLElement): void;
};

// The selectors are ours, and of elements of HTML; a script says so where it needs more than any such element has.
interface ParentNode {
  querySelector<K extends keyof HTMLElementTagNameMap>(selectors: K): HTMLElementTagNameMap[K] | null;
  querySelector<E extends Element = HTMLElement>(selectors: string): E | null;
  querySelectorAll<K extends keyof HTMLElementTagNameMap>(selectors: K): NodeListOf<HTMLElementTagNameMap[K]>;
  querySelectorAll<E extends Element = HTMLElement>(selectors: string): NodeListOf<E>;
}

interface Element {
  closest<K extends keyof HTMLElementTagNameMap>(selectors: K): HTMLElementTagNameMap[K] | null;
  closest<E extends Element = HTMLElement>(selectors: string): E | null;
}
