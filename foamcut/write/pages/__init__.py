"""What the pages of the build book are made with: templates, styles, the script that turns the model."""
