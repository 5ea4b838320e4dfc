"""The JupyterLab extension: what it is and where it lives."""
