// Light or dark: the person's choice in a cookie, else what the system says.
(() => {
  const root = document.documentElement;
  const system = matchMedia('(prefers-color-scheme: dark)');
  const chosen = () => document.cookie.match(/(?:^|; )theme=(light|dark)/)?.[1];
  const apply = () => { root.dataset.theme = chosen() ?? (system.matches ? 'dark' : 'light'); };
  apply();
  system.addEventListener('change', apply);
  document.addEventListener('click', event => {
    if (!event.target.closest?.('[data-theme-switch]')) return;
    const next = root.dataset.theme === 'dark' ? 'light' : 'dark';
    document.cookie = `theme=${next}; path=/; max-age=31536000; samesite=lax`;
    apply();
  });
})();
