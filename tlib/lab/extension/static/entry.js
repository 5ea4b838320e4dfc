// JupyterLab loads this script, hands `init` its shared packages, then asks `get` for the plugin. No bundler needed.
(() => {
  'use strict';
  const here = document.currentScript.src;
  let packages;

  // Each shared package is offered as { version: { get } }, and JupyterLab itself brings one version of each.
  const shared = async name => (await Object.values(packages[name])[0].get())();

  (window._JUPYTERLAB ??= {})['thermal-store-workbook'] = {
    init: scope => {
      packages = scope;
    },
    get: async () => {
      const { makePlugin } = await import(new URL('plugin.js', here));
      const plugin = makePlugin({
        apputils: await shared('@jupyterlab/apputils'),
        launcher: await shared('@jupyterlab/launcher'),
        mainmenu: await shared('@jupyterlab/mainmenu'),
        notebook: await shared('@jupyterlab/notebook'),
        ui: await shared('@jupyterlab/ui-components'),
        widgets: await shared('@lumino/widgets')
      });
      // Without __esModule JupyterLab finds no plugin, and says nothing about it.
      return () => ({ __esModule: true, default: plugin });
    }
  };
})();
