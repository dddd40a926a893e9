/// How references are printed, as a style of our own in the Citation Style Language 1.0
/// (https://docs.citationstyles.org): authors, year, title, where it stood, pages, DOI or address. Of a part of a book: in
/// whose book; of a book: which edition; of a web page: when it was seen.
export const STYLE = `<?xml version="1.0" encoding="utf-8"?>
<style xmlns="http://purl.org/net/xbiblio/csl" class="in-text" version="1.0" default-locale="en-US" demote-non-dropping-particle="never">
  <info>
    <title>Claimframe references</title>
    <id>claimframe-references</id>
    <updated>2026-11-25T00:00:00+00:00</updated>
  </info>
  <macro name="who">
    <names variable="author">
      <name delimiter=", " name-as-sort-order="all" sort-separator=" " initialize-with="" et-al-min="7" et-al-use-first="6"/>
      <substitute><names variable="editor"/><names variable="translator"/></substitute>
    </names>
  </macro>
  <macro name="part-of">
    <group delimiter=" ">
      <text value="In"/>
      <group delimiter=", ">
        <names variable="editor">
          <name delimiter=", " name-as-sort-order="all" sort-separator=" " initialize-with="" et-al-min="7" et-al-use-first="6"/>
          <label form="short" prefix=" (" suffix=")"/>
        </names>
        <text variable="container-title"/>
      </group>
    </group>
  </macro>
  <macro name="where">
    <group delimiter=", ">
      <choose>
        <if type="chapter paper-conference entry-encyclopedia entry-dictionary" match="any">
          <choose><if variable="container-title"><text macro="part-of"/></if></choose>
        </if>
        <else><text variable="container-title"/></else>
      </choose>
      <choose>
        <if type="book chapter" match="any">
          <text variable="volume" prefix="vol. "/>
          <text macro="edition"/>
        </if>
        <else><group><text variable="volume"/><text variable="issue" prefix="(" suffix=")"/></group></else>
      </choose>
      <choose><if type="chapter" match="none"><text variable="genre"/></if></choose>
      <text variable="page"/>
      <text variable="publisher"/>
    </group>
  </macro>
  <macro name="edition">
    <choose>
      <if is-numeric="edition"><group delimiter=" "><number variable="edition" form="ordinal"/><text value="edition"/></group></if>
      <else><text variable="edition" suffix=" edition"/></else>
    </choose>
  </macro>
  <macro name="address">
    <choose>
      <if variable="DOI"><text variable="DOI" prefix="doi:"/></if>
      <else>
        <group delimiter=", seen ">
          <text variable="URL"/>
          <date variable="accessed" delimiter="-"><date-part name="year"/><date-part name="month" form="numeric-leading-zeros"/><date-part name="day" form="numeric-leading-zeros"/></date>
        </group>
      </else>
    </choose>
  </macro>
  <citation><layout delimiter="; " prefix="(" suffix=")">
    <group delimiter=", ">
      <group delimiter=" "><names variable="author"><name form="short" et-al-min="3" et-al-use-first="1"/><substitute><names variable="editor"/><text variable="title"/></substitute></names><date variable="issued"><date-part name="year"/></date></group>
      <text variable="locator"/>
    </group>
  </layout></citation>
  <bibliography><layout>
    <group delimiter=". ">
      <group delimiter=" "><text macro="who"/><date variable="issued" prefix="(" suffix=")"><date-part name="year"/></date></group>
      <text variable="title"/>
      <text macro="where"/>
      <text macro="address"/>
    </group>
  </layout></bibliography>
</style>`
