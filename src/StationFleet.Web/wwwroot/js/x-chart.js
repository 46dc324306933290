// <x-chart options="{…}"> or <x-chart src="/…"> draws an ECharts picture in our colours, on interactive and static pages alike.
import * as echarts from '../lib/echarts/echarts.esm.min.mjs';

const token = name => getComputedStyle(document.documentElement).getPropertyValue(name).trim();

// Options are JSON, so a colour may name a token: "var(--lake)".
const withTokens = value =>
  typeof value === 'string' ? value.replace(/var\((--[\w-]+)\)/g, (_, name) => token(name))
    : Array.isArray(value) ? value.map(withTokens)
      : value && typeof value === 'object' ? Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, withTokens(inner)]))
        : value;

class XChart extends HTMLElement {
  static observedAttributes = ['options', 'src'];

  connectedCallback() {
    this.style.display = 'block';
    this.style.height ||= this.getAttribute('height') ?? '280px';
    this.sizes = new ResizeObserver(() => this.chart?.resize());
    this.sizes.observe(this);
    this.themes = new MutationObserver(() => this.draw());
    this.themes.observe(document.documentElement, { attributes: true, attributeFilter: ['data-theme'] });
    this.chart = echarts.init(this, null, { renderer: 'svg' });
    this.draw();
  }

  disconnectedCallback() {
    this.sizes?.disconnect();
    this.themes?.disconnect();
    this.chart?.dispose();
    this.chart = undefined;
  }

  attributeChangedCallback() { if (this.chart) this.draw(); }

  async draw() {
    const source = this.getAttribute('src');
    const raw = source ? await (await fetch(source)).json() : JSON.parse(this.getAttribute('options') || '{}');
    if (!this.chart) return;
    const options = withTokens(raw);
    options.aria = { enabled: true, ...options.aria };
    options.backgroundColor ??= 'transparent';
    options.animation ??= false;
    options.textStyle = { fontFamily: token('--font'), color: token('--ink-2'), ...options.textStyle };
    this.chart.setOption(options, { notMerge: true });
  }
}

customElements.define('x-chart', XChart);
