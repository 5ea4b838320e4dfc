"""The learner's desk in JupyterLab: own copies of the workbooks, the server, the page extension and its settings."""
